/** What a copy holds, as far as its order among others depends on it. */
export interface CopyContent {
  readonly rigs: readonly { readonly rig: string; readonly epoch?: string | undefined; readonly entries: number }[];
  readonly blobs: number;
  readonly number?: number | undefined;
}

export interface Dated {
  /** By the clock of then, milliseconds since 1970. */
  readonly madeAt: number;
  /** Undefined where neither the copy nor what stands beside it can be read. */
  readonly content?: CopyContent | undefined;
}

/** Clocks of a house differ by so much, and time zones set wrong by no more. */
const AHEAD_MS = 86_400_000;

/** Whether the clock of then must have been ahead, or that of now is behind. */
export const isToCome = (madeAt: number, now: number): boolean => madeAt > now + AHEAD_MS;

const sizeOf = (content: CopyContent): number => content.rigs.reduce((sum, { entries }) => sum + entries, 0);
const numberOf = (content: CopyContent): number => content.number ?? -1;

/**
 * Newest first, by what copies hold and not by their names: a clock may have been wrong. Entries are only ever added, so of two
 * copies of one history the newer holds more. A restore begins a new history (every rig gets a new epoch); histories follow each
 * other as the numbers of their copies do, and where there are none as the dates do that are not to come.
 * Copies that tell nothing of themselves come first, so that they are looked at.
 */
export function newestFirst<C extends Dated>(copies: readonly C[], now: number): C[] {
  const silent = copies.filter(({ content }) => content === undefined).sort((a, b) => b.madeAt - a.madeAt);
  const histories = historiesOf(copies.filter(({ content }) => content !== undefined)).map((history) => ({
    copies: history.sort(
      (a, b) =>
        sizeOf(b.content!) - sizeOf(a.content!) ||
        b.content!.blobs - a.content!.blobs ||
        numberOf(b.content!) - numberOf(a.content!) ||
        b.madeAt - a.madeAt,
    ),
    number: Math.max(...history.map(({ content }) => numberOf(content!))),
    date: Math.max(...history.map(({ madeAt }) => (isToCome(madeAt, now) ? Number.NEGATIVE_INFINITY : madeAt))),
  }));
  histories.sort((a, b) => b.number - a.number || (a.date === b.date ? 0 : b.date - a.date));
  return [...silent, ...histories.flatMap((history) => history.copies)];
}

/** Copies that share the epoch of a rig are of one history; those of earlier programs, which noted none, of one of their own. */
function historiesOf<C extends Dated>(copies: readonly C[]): C[][] {
  let histories: { keys: Set<string>; copies: C[] }[] = [];
  for (const copy of copies) {
    const keys = new Set(copy.content!.rigs.map(({ rig, epoch }) => `${rig} ${epoch ?? ''}`));
    const same = histories.filter((history) => [...keys].some((key) => history.keys.has(key)));
    histories = histories.filter((history) => !same.includes(history));
    histories.push({
      keys: new Set([...keys, ...same.flatMap((history) => [...history.keys])]),
      copies: [...same.flatMap((history) => history.copies), copy],
    });
  }
  return histories.map((history) => history.copies);
}

/** Why the name of a copy is not to be believed, given all of them newest first; undefined where nothing speaks against it. */
export function doubtOf<C extends Dated>(copy: C, newestFirstCopies: readonly C[], now: number): string | undefined {
  const day = new Date(copy.madeAt).toISOString().slice(0, 10);
  if (isToCome(copy.madeAt, now)) return `Its name says ${day}, which is still to come: a clock was wrong`;
  if (copy.content === undefined) return undefined;
  const older = newestFirstCopies.slice(newestFirstCopies.indexOf(copy) + 1);
  const later = older.find(
    ({ madeAt, content }) =>
      content && madeAt > copy.madeAt && !isToCome(madeAt, now) && !isSame(content, copy.content!),
  );
  if (!later) return undefined;
  const laterDay = new Date(later.madeAt).toISOString().slice(0, 10);
  return `Its name says ${day}, yet it is newer than one of ${laterDay} by what it holds: a clock was wrong`;
}

const isSame = (a: CopyContent, b: CopyContent): boolean => sizeOf(a) === sizeOf(b) && a.blobs === b.blobs;
