import { useSignal } from '@preact/signals';
import './rig.css';
import { ReadingsPlot } from '../drawings/readings-plot.tsx';
import { frame, useAnswer } from '../replica/client.ts';
import type { DutyView, PartView } from '../replica/views/rig.ts';
import { openForm } from '../shell/form.ts';
import { Notches, OpenCircle } from '../shell/marks.tsx';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';
import { Grounds } from '../shell/why.tsx';
import { Wide } from '../shell/width.tsx';

/** One part: what it is, how each of its duties stands and why, what was read off it, what was done to it. */
export function Part({ id }: { readonly id: string }) {
  const { answer, problems, working } = useAnswer('part', { part: id });
  if (!answer) {
    return (
      <>
        <Title aria-busy={working}>{working ? 'A part' : 'There is no such part'}</Title>
        <Problems problems={problems} />
        {!working && <a href={linkTo('rig')}>The whole rig</a>}
      </>
    );
  }
  return (
    <>
      <Title>{answer.place === '' ? answer.name : `${answer.name}: ${answer.place}`}</Title>
      <p class="soft lead-in">
        <a href={linkTo('rig')}>The whole rig</a>
      </p>
      <div class="go-columns">
        <div>
          <Identity part={answer} />
          <section aria-labelledby="h-duties">
            <h2 id="h-duties">What it asks for</h2>
            <ul class="plain">
              {answer.duties.map((duty) => (
                <Duty key={duty.id} duty={duty} part={answer} />
              ))}
            </ul>
          </section>
        </div>
        <div>
          <Readings part={answer} />
          <History part={answer} />
        </div>
      </div>
    </>
  );
}

function Identity({ part }: { readonly part: PartView }) {
  return (
    <table class="identity">
      <caption class="sr">What it is</caption>
      <tbody>
        {part.facts.map(([name, value]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{value}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Duty({ duty, part }: { readonly duty: DutyView; readonly part: PartView }) {
  const open = useSignal(false);
  const write = (): void => {
    if (duty.drill) openForm({ proof: { kind: 'drill', upkeep: duty.upkeep, part: part.id } });
    else if (duty.fits) openForm({ proof: { kind: 'fit', part: part.id, partKind: part.kind } });
    else openForm({ proof: { kind: 'work', upkeep: duty.upkeep, parts: [part.id] } });
  };
  return (
    <li class="finding">
      <div class="finding-line">
        <div>
          <h3>
            {duty.state === 'unproven' && <OpenCircle />}
            {duty.title}
          </h3>
          <p class="soft">
            {duty.state === 'unproven' ? 'Unproven. ' : <Notches slack={duty.slack} of={duty.notches} />}
            {duty.state === 'unproven' || duty.stateText === '' ? '' : `${duty.stateText}. `}
            <button type="button" class="why" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
              why<span class="sr">: {duty.title}</span>
            </button>
          </p>
        </div>
        <button type="button" class="quiet writes" aria-label={`Write it: ${duty.title}`} onClick={write}>
          Write it
        </button>
      </div>
      {open.value && (
        <div class="why-in">
          <p>{duty.why}</p>
          {duty.clocks.length > 1 && (
            <dl class="grounds">
              <dt>Its clocks, the first to run out counts</dt>
              {duty.clocks.map((text) => (
                <dd key={text}>{text}</dd>
              ))}
            </dl>
          )}
          <Grounds evidence={duty.evidence} sources={duty.sources} />
        </div>
      )}
    </li>
  );
}

function Readings({ part }: { readonly part: PartView }) {
  if (part.series.length === 0 && part.readable.length === 0) return null;
  return (
    <section aria-labelledby="h-readings">
      <h2 id="h-readings">Readings</h2>
      {part.series.map((series) => (
        <figure key={series.what}>
          <figcaption>
            <b>{series.label}</b>, {series.unit}
            {series.crosses ? `. ${series.crosses.text}.` : ''}
          </figcaption>
          <Wide>{(width) => <ReadingsPlot series={series} width={width} today={frame.value!.today} />}</Wide>
        </figure>
      ))}
      <div class="row wrap">
        {part.readable.map(({ what, label }) => (
          <button
            key={what}
            type="button"
            class="quiet writes"
            onClick={() => openForm({ kind: 'reading', known: { part: part.id, what } })}
          >
            Write {label.toLowerCase()}
          </button>
        ))}
      </div>
    </section>
  );
}

const SHOWN = 12;

function History({ part }: { readonly part: PartView }) {
  const all = useSignal(false);
  const shown = all.value ? part.history : part.history.slice(0, SHOWN);
  return (
    <section aria-labelledby="h-history">
      <h2 id="h-history">History</h2>
      <ol class="history">
        {shown.map((line) => (
          <li key={line.id}>
            <a href={linkTo('logbook', line.id)}>{line.day}</a> <span class="soft">{line.by}</span>
            <br />
            {line.head}
            {line.more === '' ? '' : `. ${line.more}`}
          </li>
        ))}
      </ol>
      {part.history.length > SHOWN && !all.value && (
        <button type="button" class="quiet" onClick={() => (all.value = true)}>
          Show all {part.history.length}
        </button>
      )}
    </section>
  );
}
