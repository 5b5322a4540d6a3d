import { useAnswer } from '../replica/client.ts';
import type { HandbookView } from '../replica/views/handbook.ts';
import { NotYet, Problems } from '../shell/problems.tsx';
import { PageForm } from '../shell/spec-form.tsx';
import { Figure, type SettingsPart } from './settings-figure.tsx';
import { OwnList } from './settings-own.tsx';

/** What the owner's own handbook says: other intervals and limits, and facts that have no default. */
export function Handbook({ view, set }: SettingsPart) {
  const { answer, problems } = useAnswer('handbook', {});
  return (
    <div class="settings-columns">
      <div>
        {answer === null ? (
          <NotYet problems={problems} doing="Opening …" />
        ) : (
          <>
            <Problems problems={problems} />
            <Intervals book={answer} set={set} />
          </>
        )}
      </div>
      <Facts view={view} set={set} />
    </div>
  );
}

function Intervals({ book, set }: { readonly book: HandbookView; readonly set: SettingsPart['set'] }) {
  return (
    <section aria-labelledby="h-intervals">
      <h2 id="h-intervals">Intervals and limits of your own</h2>
      <p class="soft">
        Your handbook outranks every default here. Where it says otherwise, or the job takes you longer, say so: the
        outlook, the plan and the send-off go by it at once.
      </p>
      <Problems problems={book.problems} />
      <OwnList lines={book.own} set={set} />
      {book.bare ? (
        <p>No part is on record yet, so there is no upkeep either.</p>
      ) : (
        <>
          <PageForm own="override" button="Write your figure" />
          <details>
            <summary>Add an upkeep that is not in the list</summary>
            <PageForm own="ownUpkeep" button="Write this upkeep" />
          </details>
        </>
      )}
      <details>
        <summary>Add a kind of part that is not in the list</summary>
        <PageForm own="ownPartKind" button="Write this kind of part" />
      </details>
    </section>
  );
}

/** A bare number is kept as one, so that what needs a number finds it. */
const asFact = (text: unknown): unknown =>
  typeof text === 'string' && /^\d+(\.\d+)?$/.test(text) ? Number(text) : text;

function Facts({ view, set }: SettingsPart) {
  return (
    <section aria-labelledby="h-facts">
      <h2 id="h-facts">What only your handbook can say</h2>
      <p class="soft">Makers contradict each other about these. Until you write yours down they are unknown.</p>
      {view.facts.map((one) => (
        <div key={one.id} class="fact">
          <Figure
            label={one.title}
            value={one.value}
            placeholder="Not on record"
            sentence
            save={(value) => set(`fact/${one.id}`, asFact(value))}
          />
          <details>
            <summary>Where to look, and why it matters</summary>
            <p>
              {one.ask} {one.why}
            </p>
            <ul class="call-whom">
              {one.disagree.map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </details>
        </div>
      ))}
    </section>
  );
}
