import { renderSVG } from 'uqr';
import { formatDate } from '../dates/index.ts';
import { partsOf, partWords } from '../logbook/index.ts';
import type { SheetContext } from './context.ts';
import { page } from './page.tsx';

/**
 * Labels to cut out and stick on parts: the QR code opens the part on a phone.
 *
 * @param address of the app, without a slash at its end: `https://rig.example.org`
 */
export function labelSheet({ desk, rig, foot, mark }: SheetContext, address: string): string {
  const { state, catalog, now } = desk;
  return page(
    { title: 'Labels for parts', rig, on: formatDate(now, 'long'), foot, mark },
    <div class="labels">
      {partsOf(state).map((part) => (
        <div class="label" key={part.id}>
          <div dangerouslySetInnerHTML={{ __html: renderSVG(`${address}/#/rig/${part.id}`, { border: 1 }) }} />
          <div>
            <b>{partWords(part.id, { state, catalog })}</b>
            <p class="soft">{part.id}</p>
          </div>
        </div>
      ))}
    </div>,
  );
}
