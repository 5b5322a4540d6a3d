/** `serve`: the page and the API, on this machine. */
import type { Command } from 'commander';
import { fail, ok, type Problem, type Result, unwrap } from '../../problem/index.ts';
import type { AccessMode } from '../../server/index.ts';
import { keepCopies } from '../../store/index.ts';
import { ANSWERED, refuse, withKeeping, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { RigOptions } from '../keeping.ts';
import { VERSION } from '../version.ts';
import { writerOf } from '../writing.ts';

import { type Done, storeCommand } from './options.ts';
import { copiesFolder, keptRecipient } from './recovery.ts';

interface ServeOptions extends RigOptions {
  readonly port: string;
  readonly host: string;
  readonly origin?: string;
  readonly proxy?: string;
}

const portProblem = (text: string): Problem => ({
  code: 'cli.port',
  what: `“${text}” is no port`,
  where: '--port',
  expected: 'a number from 0 to 65535; 0 takes any free one',
});

/** Who may come in: with `--origin` those who have an account, else whoever is at this machine. Problems: `cli.origin`, `cli.proxy`. */
function accessOf({ origin, proxy, demo }: ServeOptions, io: Io): Result<AccessMode> {
  if (origin === undefined) {
    if (proxy === undefined) return ok({ kind: 'local', ownerName: writerOf({}, io) });
    const next = 'Say with --origin under which address others reach this machine.';
    return fail({ code: 'cli.proxy', what: '`--proxy` is given without accounts', where: '--proxy', next });
  }
  if (demo) {
    const what = 'The demo rig is thrown away again, and has no accounts';
    return fail({ code: 'cli.origin', what, where: '--origin', next: 'Leave one of the two out.' });
  }
  const url = URL.canParse(origin) ? new URL(origin) : undefined;
  if (url && /^https?:$/.test(url.protocol) && url.origin === origin.replace(/\/$/, '')) {
    return ok({ kind: 'accounts', origin: url.origin, ...(proxy === undefined ? {} : { proxy }) });
  }
  return fail({
    code: 'cli.origin',
    what: `“${origin}” is not the address of a site`,
    where: '--origin',
    expected: 'something like https://rig.example, without a path',
  });
}

/** What a browser sends in the clear can be read on its way, unless it stays on this machine. */
const isReadable = (access: AccessMode): boolean =>
  access.kind === 'accounts' && /^http:\/\/(?!(localhost|127\.0\.0\.1|\[::1\])(:|$))/.test(access.origin);

async function serveIt(options: ServeOptions, io: Io): Promise<number> {
  const port = Number(options.port);
  if (!/^\d{1,5}$/.test(options.port) || port > 65_535) return refuse(io, [portProblem(options.port)], options.json);
  const access = accessOf(options, io);
  if (!access.ok) return refuse(io, access.problems, options.json);
  return withKeeping(options, io, async (keeping) => {
    const told = (error: unknown): void =>
      io.err(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    const still = keeping.demo || options.now !== undefined;
    // Of a database there may be many servers: whoever runs it says when copies are made, once.
    const inFolder = !keeping.demo && keeping.store.place.kind === 'sqlite';
    const folder = inFolder ? copiesFolder(keeping.folder) : undefined;
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
        access: access.value,
        ...(folder ? { copiesFolder: folder } : {}),
        ...(io.webFolder ? { webFolder: io.webFolder } : {}),
      },
      { host: options.host, port },
    );
    if (!listening.ok) return refuse(io, listening.problems.map(withFirstAccount), options.json);
    const copies = folder
      ? keepCopies({
          store: keeping.store,
          folder,
          recipient: async () => unwrap(await keptRecipient(keeping.folder)),
          clock: io.clock,
          onDrill: ({ what }) => io.err(`Restore drill: ${what}.\n`),
          onFailure: told,
        })
      : undefined;
    const url = access.value.kind === 'accounts' ? access.value.origin : listening.value.url;
    const listens = listening.value.url;
    if (options.json)
      writeJson(io, { url, listens, data: keeping.demo ? null : keeping.store.place.where, copies: folder ?? null });
    else {
      const what = keeping.demo
        ? 'the demo rig (all invented; a throw-away copy)'
        : `the logbooks in ${keeping.store.place.where}`;
      const at = url === listens ? '' : `It listens on ${listens}.\n`;
      io.out(`Serving ${what}\n\n    ${url}\n\n${at}Stop with Ctrl-C.\n`);
      if (isReadable(access.value)) io.err('Without https, passwords can be read on their way through the network.\n');
      if (!keeping.demo && !folder)
        io.err('No copies are made by themselves: let `rigworthy backup --database …` run every day.\n');
      if (!io.webFolder) io.err('The page is not built: only the API answers. `npm start` builds it.\n');
    }
    await io.ended();
    await copies?.stop();
    await listening.value.close();
    return ANSWERED;
  });
}

/** Names the command that makes the first account. */
function withFirstAccount(problem: Problem): Problem {
  if (problem.code !== 'server.no-account') return problem;
  return { ...problem, next: 'Make the first with `rigworthy account add NAME --rig RIG`, then try again.' };
}

/** `rigworthy serve` */
export function addServe(program: Command, io: Io, done: Done): void {
  storeCommand(program, 'serve')
    .description('serve the page and the API on this machine')
    .option('--port <port>', 'where it listens', '4780')
    .option('--host <address>', 'the address it listens on', '127.0.0.1')
    .option('--origin <url>', 'with accounts: under which address others reach it, https://rig.example')
    .option('--proxy <address>', 'a reverse proxy whose word on where a request comes from is taken')
    .option('--now <date>', 'the day the answers are for (default: today)')
    .action((options: ServeOptions) => done(serveIt(options, io)));
}
