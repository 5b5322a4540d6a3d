import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import './scale.css';
import type { Problem } from '../../problem/index.ts';
import { RigSide } from '../drawings/rig-side.tsx';
import { ask, problemsOf, useAnswer } from '../replica/client.ts';
import type { ScaleView } from '../replica/views/scale.ts';
import type { TireRow } from '../replica/views/scale-tires.ts';
import { openForm } from '../shell/form.ts';
import { NotYet, Problems, sentence } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';
import { Wide } from '../shell/width.tsx';
import { MarginTable } from './margins.tsx';

/** On the scale: what was weighed, every margin with its rating's origin, each tire and what to set it to. */
export function Scale() {
  const { answer, problems } = useAnswer('scale', {});
  if (!answer) {
    return (
      <>
        <Title>On the scale</Title>
        <NotYet problems={problems} doing="Working it out …" />
      </>
    );
  }
  return (
    <>
      <Title>{answer.sentence}</Title>
      <Weighed view={answer} />
      <Problems problems={answer.problems} />
      <div class="scale-columns">
        <div>
          <Wide class="scale-side">
            {(width) => (
              <RigSide
                width={Math.min(width, 620)}
                axles={answer.axles}
                towAxles={answer.towAxles}
                label={answer.names}
                loads={answer.loads}
              />
            )}
          </Wide>
          {(answer.margins.length > 0 || answer.unrated.length > 0) && (
            <section aria-labelledby="h-margins">
              <h2 id="h-margins">Margins, the tightest first</h2>
              <MarginTable margins={answer.margins} />
              {answer.unrated.length > 0 && (
                <p class="soft">Without a rating on record: {answer.unrated.join('; ')}.</p>
              )}
            </section>
          )}
        </div>
        <div>
          <Figures view={answer} />
          <Tires view={answer} />
          <Lost view={answer} />
        </div>
      </div>
    </>
  );
}

function Weighed({ view }: { readonly view: ScaleView }) {
  const { weighing, earlier } = view;
  return (
    <>
      <p class="soft lead-in">
        {weighing
          ? `${weighing.place || 'Weighed'}, ${weighing.day}${weighing.old ? ': over a year ago' : ''}. ${weighing.cargo && sentence(weighing.cargo)}`
          : 'Bring the tow vehicle over the scale alone, then hitched: three tickets tell everything.'}{' '}
        {weighing && <a href={linkTo('logbook', weighing.id)}>The tickets</a>}
      </p>
      <p class="row wrap scale-do">
        <button type="button" class="writes" onClick={() => openForm({ kind: 'weigh' })}>
          Write a weighing
        </button>
        <button type="button" class="quiet writes" onClick={() => openForm({ kind: 'enroll' })}>
          Write ratings
        </button>
        <a class="button quiet" href={linkTo('reckon')}>
          Reckon something
        </a>
      </p>
      {earlier.length > 0 && (
        <details>
          <summary>{earlier.length === 1 ? 'One earlier weighing' : `${earlier.length} earlier weighings`}</summary>
          <ul class="plain">
            {earlier.map((one) => (
              <li key={one.id}>
                <a class="part-row" href={linkTo('logbook', one.id)}>
                  {one.day} {one.place}
                </a>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Figures({ view }: { readonly view: ScaleView }) {
  if (view.figures.length === 0) return null;
  return (
    <section aria-labelledby="h-figures">
      <h2 id="h-figures">What the tickets say</h2>
      <table class="identity">
        <tbody>
          {view.figures.map(([name, value]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {view.cautions.length > 0 && (
        <div class="caution">
          <b>Mind:</b> {view.cautions.join(' ')}
        </div>
      )}
    </section>
  );
}

function Tires({ view }: { readonly view: ScaleView }) {
  if (view.tires.length === 0) return null;
  return (
    <section aria-labelledby="h-tires">
      <h2 id="h-tires">Tires</h2>
      <p class="soft">Each is taken to carry an even share of the axles: weigh each side alone to know better.</p>
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Tire</th>
              <th scope="col" class="n">
                Carries
              </th>
              <th scope="col" class="n">
                May carry
              </th>
              <th scope="col" class="n">
                Set cold
              </th>
            </tr>
          </thead>
          <tbody>
            {view.tires.map((tire) => (
              <Tire key={tire.part} tire={tire} />
            ))}
          </tbody>
        </table>
      </div>
      <SetNow />
    </section>
  );
}

function Tire({ tire }: { readonly tire: TireRow }) {
  return (
    <tr>
      <th scope="row">
        <a href={linkTo('rig', tire.part)}>{tire.place || tire.part}</a>
        <small class="soft">{tire.note || tire.pressure}</small>
      </th>
      <td class="n">{tire.load}</td>
      <td class="n">
        {tire.may}
        <small class="soft">{tire.margin === '–' ? '' : `${tire.margin} left`}</small>
      </td>
      <td class="n">{tire.setTo}</td>
    </tr>
  );
}

/** The gauge now: the same air in the tire shows less in the cold. */
function SetNow() {
  const air = useRef<HTMLInputElement>(null);
  const rows = useSignal<readonly (readonly [string, string])[]>([]);
  const problems = useSignal<readonly Problem[]>([]);
  const reckon = async (event: Event): Promise<void> => {
    event.preventDefault();
    try {
      rows.value = await ask('setNow', { air: air.current!.value });
      problems.value = [];
    } catch (error) {
      problems.value = problemsOf(error);
      rows.value = [];
    }
  };
  return (
    <form onSubmit={reckon} class="set-now">
      <label class="field">
        <span>Set now, with the air at</span>
        <input ref={air} placeholder="41 F or 5 C" required autocomplete="off" />
      </label>
      <button type="submit" class="quiet">
        What must the gauge show?
      </button>
      <Problems problems={problems.value} />
      <p aria-live="polite">
        {rows.value.length > 0 && <b>{rows.value.map(([place, pressure]) => `${place}: ${pressure}`).join('; ')}. </b>}
        {rows.value.length > 0 && 'Cold tires, in the shade; it then holds its pressure at 68 °F.'}
      </p>
    </form>
  );
}

function Lost({ view }: { readonly view: ScaleView }) {
  if (!view.lost) return null;
  return (
    <section aria-labelledby="h-lost">
      <h2 id="h-lost">One wheel lost</h2>
      <p>{view.lost.text}</p>
      <div class="caution">
        <b>Never a permission.</b> {view.lost.cautions.join(' ')}
      </div>
    </section>
  );
}
