/** The worker: holds the replica, folds it, and works out every answer, so that the page itself never has to. */
import { fail, type Problem, ProblemError } from '../../problem/index.ts';
import { answers, comeAlong } from './answers.ts';
import { DeviceBooks } from './books.ts';
import { shippedCatalog } from './catalog.ts';
import { Keeper } from './keeper.ts';
import { Line } from './line.ts';
import { Live } from './live.ts';
import type { Asked, Told } from './protocol.ts';

/**
 * `main` keeps the replica in step with the server; `planner` only reads it, so that long planning never makes the page wait. With a
 * share link there is one worker, and its replica is in memory.
 */
const settings = new URLSearchParams(self.name.split('?')[1] ?? '');
const planner = settings.get('role') === 'planner';
const link = settings.get('link') ?? undefined;
const news = new BroadcastChannel('rigworthy-entries');
const tell = (message: Told): void => postMessage(message);

/** Today on this device, as its owner's calendar has it. */
function deviceToday(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const catalog = shippedCatalog();
const openBooks = async (): Promise<DeviceBooks | null> => (link === undefined ? DeviceBooks.open() : null);
const opened = openBooks().then(async (books) => {
  let waiting = 0;
  const keeper = new Keeper({
    catalog: await catalog,
    line: new Line(link),
    books,
    tell: (frame) => {
      if (planner) return;
      waiting = frame.waiting;
      tell({ tell: 'frame', frame });
      // Where the server does not know the rig there is nothing to follow.
      live.follow(frame.stage === 'open' && frame.standing !== 'not-there' ? frame.rig : null);
    },
    spread: (rig) => link === undefined && news.postMessage(rig),
    today: deviceToday,
    fixed: settings.get('now') ?? undefined,
  });
  const live = new Live({
    pull: () => keeper.sync(),
    waits: () => waiting > 0,
    async standing(rig) {
      // A share link cannot be told to a channel: whoever came by one asks now and then.
      if (books === null) return null;
      const note = await books.note(rig);
      return note?.local ? null : { cursor: note?.cursor };
    },
  });
  if (!planner) {
    await keeper.open();
    void keeper.meetServer().catch(report);
  }
  return { keeper, live };
});

let followed = false;

self.onmessage = async ({ data }: MessageEvent<Asked>) => {
  const { id, question, ask, of } = data;
  try {
    const { keeper, live } = await opened;
    if (question === 'look') {
      if ((ask as Asked<'look'>['ask']).anew) await keeper.meetAgain();
      await live.look();
    }
    if (planner) await keeper.catchUp(of);
    const answer = await answers[question](keeper, ask as never);
    tell({ tell: 'answer', id, answer });
    if (!planner && !followed) void comeAlong();
    followed = true;
  } catch (error) {
    tell({ tell: 'failed', id, problems: problemsOf(error) });
  }
};

/** Another window of this browser wrote something: it is in the replica already. */
news.onmessage = async ({ data }: MessageEvent<string>) => {
  const { keeper } = await opened;
  if (!planner && link === undefined && keeper.isOpen(data)) await keeper.reload();
};

const report = (error: unknown): void => console.error(error);

function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof ProblemError) return error.problems;
  report(error);
  const told = fail({
    code: 'web.unexpected',
    what: 'Something went wrong on our side',
    where: error instanceof Error ? error.message : String(error),
    next: 'Reload the page. Nothing that was written is lost.',
  });
  return told.ok ? [] : told.problems;
}
