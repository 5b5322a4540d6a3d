/** `serve`: the page and the API, on this machine. */
import type { Command } from 'commander';
import type { Problem } from '../../problem/index.ts';
import { keepCopies } from '../../store/index.ts';
import { ANSWERED, refuse, withKeeping, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { RigOptions } from '../keeping.ts';
import { VERSION } from '../version.ts';
import { copiesFolder } from './copies.ts';
import { type Done, storeCommand } from './options.ts';

interface ServeOptions extends RigOptions {
  readonly port: string;
  readonly host: string;
}

const portProblem = (text: string): Problem => ({
  code: 'cli.port',
  what: `“${text}” is no port`,
  where: '--port',
  expected: 'a number from 0 to 65535; 0 takes any free one',
});

async function serveIt(options: ServeOptions, io: Io): Promise<number> {
  const port = Number(options.port);
  if (!/^\d{1,5}$/.test(options.port) || port > 65_535) return refuse(io, [portProblem(options.port)], options.json);
  return withKeeping(options, io, async (keeping) => {
    const told = (error: unknown): void =>
      io.err(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    const still = keeping.demo || options.now !== undefined;
    // Loaded only here: no other command waits for it.
    const { serve } = await import('../../server/index.ts');
    const listening = await serve(
      {
        store: keeping.store,
        catalog: shippedCatalog(),
        clock: io.clock,
        today: still ? () => keeping.now : io.today,
        version: VERSION,
        onFailure: told,
        ...(io.webFolder ? { webFolder: io.webFolder } : {}),
      },
      { host: options.host, port },
    );
    if (!listening.ok) return refuse(io, listening.problems, options.json);
    const copies = keeping.demo
      ? undefined
      : keepCopies({ store: keeping.store, folder: copiesFolder(keeping.folder), clock: io.clock, onFailure: told });
    if (options.json) writeJson(io, { url: listening.value.url, data: keeping.demo ? null : keeping.folder });
    else {
      const what = keeping.demo
        ? 'the demo rig (all invented; a throw-away copy)'
        : `the logbooks in ${keeping.folder}`;
      io.out(`Serving ${what}\n\n    ${listening.value.url}\n\nStop with Ctrl-C.\n`);
      if (!io.webFolder) io.err('The page is not built: only the API answers. `npm start` builds it.\n');
    }
    await io.ended();
    await copies?.stop();
    await listening.value.close();
    return ANSWERED;
  });
}

/** `rigworthy serve` */
export function addServe(program: Command, io: Io, done: Done): void {
  storeCommand(program, 'serve')
    .description('serve the page and the API on this machine')
    .option('--port <port>', 'where it listens', '4780')
    .option('--host <address>', 'the address it listens on', '127.0.0.1')
    .option('--now <date>', 'the day the answers are for (default: today)')
    .action((options: ServeOptions) => done(serveIt(options, io)));
}
