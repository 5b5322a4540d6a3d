import type { KitItem, Mishap } from '../catalog/index.ts';
import { formatDate } from '../dates/index.ts';
import { kitAboard, partsOf, settingsOf } from '../logbook/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { SheetContext } from './context.ts';
import { Cautions, List, page, sentences } from './page.tsx';

/** The roadside sheet: every mishap this rig can have, with its own figures, where the tools are stowed, and when not to tow on. */
export function roadsideSheet(context: SheetContext): string {
  const { desk, rig, foot, mark } = context;
  const kinds = new Set(partsOf(desk.state).map((part) => part.kind));
  const mishaps = [...desk.catalog.mishaps.values()].filter(
    (mishap) => mishap.parts.length === 0 || mishap.parts.some((kind) => kinds.has(kind)),
  );
  const calls = [...settingsOf(desk.state, 'call').values()];
  return page(
    { title: 'At the roadside', rig, on: formatDate(desk.now, 'long'), foot, mark, size: 'arm' },
    <>
      <p>
        <b>First:</b> off the road, hazard lights on, everybody out on the side away from traffic. Nobody under or
        between vehicles until both are chocked.
      </p>
      {calls.length ? (
        <p>
          <b>Call:</b> {calls.map((call) => `${call.name} ${call.number}`).join(' · ')}
        </p>
      ) : (
        <p class="soft">No numbers to call are on record.</p>
      )}
      {mishaps.map((mishap) => (
        <MishapCard key={mishap.id} mishap={mishap} context={context} />
      ))}
    </>,
  );
}

function MishapCard({ mishap, context }: { readonly mishap: Mishap; readonly context: SheetContext }) {
  const { catalog, state } = context.desk;
  const aboard = kitAboard(state);
  const stowed = (id: string): string => {
    const options = [id, ...(mishap.alternatives?.[id] ?? [])];
    const found = options.map((item) => aboard.get(item)).find((entry) => entry !== undefined);
    const name = (item: string): string => catalog.kit.get(item as KitItem['id'])?.name ?? item;
    return found
      ? `${name(found.body.item)}: ${found.body.where ?? 'aboard, place not written down'}`
      : `${name(id)}: NOT ABOARD on record`;
  };
  return (
    <section class="mishap">
      <h2>{mishap.title}</h2>
      <p class="soft">{mishap.signs.join(' · ')}</p>
      <Cautions texts={mishap.cautions} />
      <p>
        <b>First minute.</b> {sentences(mishap.firstMinute)}
      </p>
      <ol>
        {mishap.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      {mishap.figures?.map((figure) => (
        <p key={figure.what}>
          <b>{figure.what}:</b>{' '}
          {[figure.is, figure.from, figure.to].flatMap((q) => (q ? [formatQuantity(q)] : [])).join(' to ')}
        </p>
      ))}
      {[...mishap.tools, ...mishap.spares].length ? (
        <List items={[...mishap.tools, ...mishap.spares].map(stowed)} />
      ) : null}
      {mishap.doNotTowIf.length ? (
        <div class="stop-use">
          <b>Do not tow on if</b>{' '}
          {mishap.doNotTowIf.map((text) => text.charAt(0).toLowerCase() + text.slice(1)).join('; or ')}.
        </div>
      ) : null}
      {mishap.call.length ? (
        <p>
          <b>Who must be called:</b> {mishap.call.join(', ')}
        </p>
      ) : null}
    </section>
  );
}
