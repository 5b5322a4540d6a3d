import { type Signal, useSignal } from '@preact/signals';
import type { SeasonDay, SeasonJob, SeasonView } from '../replica/views/season.ts';
import { openForm } from '../shell/form.ts';
import { minutesText } from '../shell/minutes.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Grounds } from '../shell/why.tsx';
import { dragJob, type Moving, moveOf } from './season-move.tsx';

interface Shared {
  readonly view: SeasonView;
  readonly moving: Signal<Moving | null>;
  readonly picked: Signal<string | null>;
}

/** One yard day: jobs in working order, what is shared, tools and parts. The next one stands open. */
export function YardDaySection({
  day,
  first,
  ...shared
}: { readonly day: SeasonDay; readonly first: boolean } & Shared) {
  const open = useSignal(first);
  const id = `day-${day.date}`;
  const count = day.jobs.length === 1 ? '1 job' : `${day.jobs.length} jobs`;
  const pinned = day.jobs.filter((job) => job.pinned).length;
  const toggle = (): void => {
    open.value = !open.value;
  };
  return (
    <div class="yard-day">
      <h3>
        <button type="button" class="day-head" aria-expanded={open.value} aria-controls={id} onClick={toggle}>
          <span>
            {day.text}, {minutesText(day.minutes)}
          </span>
          <span class="soft">
            {count}, ${Math.round(day.cost)}
            {pinned > 0 ? `, ${pinned} put here by you` : ''}
          </span>
        </button>
      </h3>
      <div id={id} hidden={!open.value}>
        {open.value && <DayInside day={day} {...shared} />}
      </div>
    </div>
  );
}

function DayInside({ day, ...shared }: { readonly day: SeasonDay } & Shared) {
  const jobs = day.jobs.flatMap(({ proof }) =>
    proof?.kind === 'work' ? proof.parts.map((part) => ({ upkeep: proof.upkeep, part })) : [],
  );
  const setups = day.setups.filter((setup) => setup.jobs > 1);
  return (
    <>
      <p class="soft">
        {minutesText(day.minutesFree)} free.
        {setups.map((setup) => ` ${setup.title}: once for ${setup.jobs} jobs.`).join('')}
      </p>
      <ol class="jobs">
        {day.jobs.map((job) => (
          <JobRow key={job.key} job={job} day={day.date} {...shared} />
        ))}
      </ol>
      {jobs.length > 0 && (
        <button
          type="button"
          class="quiet writes"
          aria-label={`Tick off ${day.text}`}
          onClick={() => openForm({ jobs })}
        >
          Tick off what was done
        </button>
      )}
      <Needs day={day} />
      <SheetLink sheet="yard" text="Print this yard day" of={day.date} />
    </>
  );
}

function JobRow({ job, day, view, moving, picked }: { readonly job: SeasonJob; readonly day: string } & Shared) {
  const open = useSignal(false);
  const toggle = (): void => {
    open.value = !open.value;
    if (open.value) picked.value = job.items[0] ?? null;
  };
  return (
    <li>
      <div class="job-line">
        <div>
          <b>{job.title}</b>
          <span class="soft">
            {[
              job.places,
              minutesText(job.minutes),
              job.pinned ? 'put here by you' : '',
              job.keptOff === '' ? '' : `kept off ${job.keptOff} by you`,
            ]
              .filter((text) => text !== '')
              .join(', ')}
          </span>{' '}
          <button type="button" class="why" aria-expanded={open.value} onClick={toggle}>
            why<span class="sr">: {job.title}</span>
          </button>
        </div>
        <button
          type="button"
          class="grip writes"
          data-job={job.key}
          aria-label={`Move ${job.title}`}
          onPointerDown={(event) => dragJob(event, job, day, view, moving)}
          onClick={({ detail, currentTarget }) => {
            // The click at the end of a drag is none.
            if (detail === 0 || currentTarget.dataset.dragged === undefined) moving.value = moveOf(job, day);
          }}
        >
          <svg viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
            <path d="M2 10 H18 M6 5 L2 10 L6 15 M14 5 L18 10 L14 15" />
          </svg>
        </button>
      </div>
      {open.value && (
        <div class="why-in">
          {job.why.map((text) => (
            <p key={text}>{text}</p>
          ))}
          <Grounds evidence={job.evidence} sources={job.sources} />
          {job.proof && (
            <button type="button" class="quiet writes" onClick={() => openForm({ proof: job.proof! })}>
              Write it
            </button>
          )}
        </div>
      )}
    </li>
  );
}

function Needs({ day }: { readonly day: SeasonDay }) {
  if (day.parts.length === 0 && day.tools.length === 0) return null;
  const missing = day.tools.filter((tool) => tool.where === 'not aboard').length;
  return (
    <details>
      <summary>
        {day.parts.length} parts, {day.tools.length} tools{missing > 0 ? `, ${missing} not aboard` : ''}
      </summary>
      <table>
        <caption class="sr">Parts and tools for {day.text}</caption>
        <tbody>
          {day.parts.map((part) => (
            <tr key={part.what}>
              <th scope="row">{part.what}</th>
              <td class="n">
                {part.quantity}
                {part.order === '' ? '' : `, ${part.order}`}
              </td>
            </tr>
          ))}
          {day.tools.map((tool) => (
            <tr key={tool.name}>
              <th scope="row">{tool.name}</th>
              <td class="n">{tool.where}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
