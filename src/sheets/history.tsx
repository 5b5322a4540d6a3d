import { formatDate, isPlainDate } from '../dates/index.ts';
import {
  cannotBeShown,
  type Entry,
  entryWords,
  odometerTrack,
  partsOf,
  partWords,
  type Teller,
} from '../logbook/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { SheetContext } from './context.ts';
import { page } from './page.tsx';

/** So many digits of a photo's hash tell it from every other of one rig. */
const SHORT = 12;

/**
 * The history sheet, for a buyer, an insurer, or oneself: what stands on the rig, and every entry with who wrote it (and when, if
 * not on its day) and the hashes of its photos, struck ones shown struck. What is kept can be held against the hash at the end.
 */
export function historySheet({ desk, rig, foot, mark }: SheetContext): string {
  const { state, catalog, now } = desk;
  const { unread } = state;
  const teller = { state, catalog };
  const all = [...state.entries.values()];
  const entries = all
    .filter((entry) => entry.kind !== 'witness')
    .sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.id < b.id ? -1 : 1));
  const odometer = (['trailer', 'tow'] as const).flatMap((role) => {
    const { newest } = odometerTrack(state, role);
    return newest
      ? [
          `${role === 'trailer' ? 'Trailer' : 'Tow vehicle'} ${formatQuantity({ value: newest.shownMiles, unit: 'mi' }, { digits: 1 })} on ${formatDate(newest.entry.on, 'day')}`,
        ]
      : [];
  });
  return page(
    { title: 'History of the rig', rig, on: formatDate(now, 'long'), foot, mark, size: 'fine' },
    <>
      <p>{odometer.join('. ')}</p>
      <h2>On the rig</h2>
      <table>
        <thead>
          <tr>
            <th>Part</th>
            <th>Since</th>
            <th>Made, code</th>
          </tr>
        </thead>
        <tbody>
          {partsOf(state).map((part) => (
            <tr key={part.id}>
              <td>{partWords(part.id, teller)}</td>
              <td class="day">
                {part.fit.body.isNew ? 'fitted new' : 'on record since'} {formatDate(part.fit.on, 'day')}
              </td>
              <td>
                {[part.fit.body.madeOn && `made ${part.fit.body.madeOn}`, part.fit.body.code]
                  .filter(Boolean)
                  .join(', ')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <h2>Every entry</h2>
      {unread.newer + unread.broken > 0 && (
        <p>
          <b>Not on this sheet:</b> {unread.newer + unread.broken} more that this version of the program cannot read.
        </p>
      )}
      <table>
        <thead>
          <tr>
            <th class="day">Day</th>
            <th>What</th>
            <th class="day">Written by</th>
          </tr>
        </thead>
        <tbody>{entries.map((entry) => safeLine(entry, teller))}</tbody>
      </table>
      <p>{signedWords(all)}</p>
    </>,
  );
}

/** Which devices signed the logbook, for a reader who wants to check it. */
function signedWords(entries: readonly Entry[]): string {
  const statements = entries.filter((entry) => entry.kind === 'witness');
  const days = statements.map(({ at }) => String(at).slice(0, 10)).filter(isPlainDate);
  const last = days.sort().at(-1);
  if (last === undefined) return 'No device has signed this logbook.';
  const names = [...new Set(statements.map(({ body }) => body.name))];
  return `Signed by ${names.join(', ')}, last on ${formatDate(last)}. Check the file: rigworthy verify FILE.`;
}

/** An entry that breaks what its line rests on is a line with its id, and not the end of the sheet. */
function safeLine(entry: Entry, teller: Teller) {
  try {
    return line(entry, teller);
  } catch {
    return (
      <tr key={entry.id}>
        <td class="day">{String(entry.on)}</td>
        <td>{cannotBeShown(entry.id)}</td>
        <td class="soft day">{String(entry.by)}</td>
      </tr>
    );
  }
}

function line(entry: Entry, teller: Teller) {
  const struck = teller.state.struck.has(entry.id);
  const isAside = teller.state.aside.has(entry.id);
  const words = entryWords(entry, teller);
  const note = 'note' in entry.body ? entry.body.note : undefined;
  const written = entry.at.slice(0, 10);
  const photos = (entry.blobs ?? []).map((hash) => hash.slice(0, SHORT));
  return (
    <tr key={entry.id}>
      <td class="day">{formatDate(entry.on, 'day')}</td>
      <td>
        {struck ? <span class="struck">{words}</span> : words}
        {struck ? ' (struck)' : isAside ? ' (set aside: it cannot be true, and does not count)' : ''}
        {note ? <span class="soft"> {note}</span> : null}
        {photos.length > 0 ? (
          <span class="soft">
            {' '}
            {photos.length === 1 ? 'Photo' : 'Photos'} {photos.join(', ')}
          </span>
        ) : null}
      </td>
      <td class="soft day">
        {entry.by}
        {written === entry.on ? '' : `, ${formatDate(written, 'day')}`}
      </td>
    </tr>
  );
}
