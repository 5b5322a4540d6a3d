import { execFileSync, spawnSync } from 'node:child_process';
import { chownSync, existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { Folder } from './keeping.ts';

/** A PostgreSQL server of the tests' own, in a temporary folder, reached by a socket in that folder. */
export interface PostgresServer {
  readonly url: string;
  readonly stop: () => void;
  /** kill -9 of the server, and a start again. */
  readonly crash: () => Promise<void>;
}

const BINARIES = '/usr/lib/postgresql';

function binaries(): string | undefined {
  const versions = existsSync(BINARIES) ? readdirSync(BINARIES).sort((a, b) => Number(b) - Number(a)) : [];
  return versions.map((version) => join(BINARIES, version, 'bin')).find((folder) => existsSync(join(folder, 'initdb')));
}

/** PostgreSQL refuses to run as root: then it runs as the user that its package made. */
function otherUser(): { uid: number; gid: number } | undefined {
  if (process.getuid?.() !== 0) return undefined;
  const id = (flag: string): number => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  return { uid: id('-u'), gid: id('-g') };
}

/**
 * Starts a server, or says why it cannot. `fsync` off is for tests that do not stop it by force.
 */
export function startPostgres({ fsync }: { fsync: boolean }): PostgresServer | string {
  const bin = binaries();
  if (!bin) return `no PostgreSQL in ${BINARIES}`;
  const folder = new Folder();
  try {
    const user = otherUser();
    if (user) chownSync(folder.path, user.uid, user.gid);
    const run = (program: string, args: string[]): void => {
      const done = spawnSync(join(bin, program), args, {
        ...user,
        cwd: folder.path,
        env: { PATH: process.env.PATH, LC_ALL: 'C' },
        encoding: 'utf8',
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      if (done.status !== 0) throw new Error(`${program}: ${done.stderr || done.error}`);
    };
    const data = folder.file('data');
    run('initdb', ['-D', data, '-A', 'trust', '-U', 'rigworthy', '-E', 'UTF8', '--locale=C', '--no-sync']);
    const settings = `-k ${folder.path} -c listen_addresses='' -c fsync=${fsync ? 'on' : 'off'} -c max_connections=60`;
    // Without -l the server would keep our standard error open.
    const start = (): void => run('pg_ctl', ['-D', data, '-w', '-l', folder.file('log'), '-o', settings, 'start']);
    start();
    return {
      url: `postgres://rigworthy@localhost/postgres?host=${folder.path}`,
      stop: () => {
        run('pg_ctl', ['-D', data, '-w', '-m', 'immediate', 'stop']);
        folder.remove();
      },
      crash: async () => {
        process.kill(Number(readFileSync(join(data, 'postmaster.pid'), 'utf8').split('\n')[0]), 'SIGKILL');
        // Its children notice and leave; until then no other server may have the folder.
        for (let tries = 0; ; tries++) {
          await wait(100);
          try {
            return start();
          } catch (error) {
            if (tries === 50) throw error;
          }
        }
      },
    };
  } catch (error) {
    folder.remove();
    return (error as Error).message;
  }
}
