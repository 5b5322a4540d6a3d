import type { Upkeep } from '../catalog/index.ts';
import { formatDate } from '../dates/index.ts';
import type { OutlookDesk } from '../desk/index.ts';
import type { Plan, PlannedJob, YardDay } from '../plan/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { SheetContext } from './context.ts';
import { Blank, Box, Cautions, hours, Line, page, Tick } from './page.tsx';

/** The yard sheet: one day's jobs in working order, what to gather, cautions where the work is, boxes and lines to fill. */
export function yardSheet({ desk, rig, foot, mark }: SheetContext, plan: Plan, date: string): string {
  const day = plan.days.find((one) => one.date === date);
  if (!day) throw new RangeError(`no yard day on ${date}`);
  return page(
    { title: `Yard day, ${hours(day.minutes)}`, rig, on: formatDate(date, 'long'), foot, mark, size: 'arm' },
    <>
      <p>
        Begun <Blank /> Done <Blank /> By <Blank />
      </p>
      <Gather day={day} />
      <SetUps day={day} desk={desk} />
      <h2>Jobs, in working order</h2>
      {runsOf(day.jobs).map((jobs) => (
        <Jobs key={jobs[0]!.item} jobs={jobs} desk={desk} />
      ))}
      <h2>At the end of the day</h2>
      <Line label="Odometer of the trailer" />
      <Line label="Odometer of the tow vehicle" />
      <Line label="Left undone, and why" />
    </>,
  );
}

function Gather({ day }: { readonly day: YardDay }) {
  return (
    <>
      <h2>Gather first</h2>
      <div class="columns">
        {day.tools.map((tool) => (
          <Tick key={tool}>{tool}</Tick>
        ))}
        {day.parts.map((part) => (
          <Tick key={`${part.what} ${part.quantity}`}>
            <b>
              {capital(part.what)}, {part.quantity}
            </b>
            {part.orderBy ? <span class="soft"> (order by {formatDate(part.orderBy, 'no-year')})</span> : null}
          </Tick>
        ))}
      </div>
    </>
  );
}

function SetUps({ day, desk }: { readonly day: YardDay; readonly desk: OutlookDesk }) {
  if (day.setups.length === 0) return null;
  return (
    <>
      <h2>Set up once</h2>
      {day.setups.map(({ id, title, minutes }) => {
        const setup = desk.catalog.setups.get(id);
        return (
          <div class="job" key={id}>
            <div class="head">
              <h3>{title}</h3>
              <span class="soft">{hours(minutes)}</span>
            </div>
            <ol>
              {setup?.steps.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
            <Cautions texts={setup?.cautions ?? []} />
          </div>
        );
      })}
    </>
  );
}

/** Jobs that follow each other and are the same work at other places: told once. */
function runsOf(jobs: readonly PlannedJob[]): PlannedJob[][] {
  const runs: PlannedJob[][] = [];
  for (const job of jobs) {
    const last = runs.at(-1);
    if (last && last[0]!.title === job.title) last.push(job);
    else runs.push([job]);
  }
  return runs;
}

function Jobs({ jobs, desk }: { readonly jobs: readonly PlannedJob[]; readonly desk: OutlookDesk }) {
  const first = jobs[0]!;
  const upkeep = desk.catalog.upkeeps.get(first.upkeep);
  const looking = first.title.startsWith('Read and write down');
  const minutes = jobs.reduce((sum, job) => sum + job.minutes, 0);
  return (
    <div class="job">
      <div class="head">
        <h3>{first.title}</h3>
        <span class="soft">
          {hours(minutes)}, done by {hours(jobs.at(-1)!.endsAtMinute)}
        </span>
      </div>
      <div class="places">
        {jobs.map((job) => (
          <Place key={job.item} job={job} readings={upkeep?.readings ?? []} />
        ))}
      </div>
      {looking ? <p>{upkeep?.look}</p> : null}
      {looking || !upkeep ? null : <HowTo upkeep={upkeep} />}
      <Cautions texts={upkeep?.cautions ?? []} />
      <p class="soft">{first.why}</p>
      <Line label="Note" />
    </div>
  );
}

function Place({ job, readings }: { readonly job: PlannedJob; readonly readings: Upkeep['readings'] }) {
  return (
    <p class={readings.length ? 'wide' : ''}>
      <Box />
      <b>{capital(job.place || 'done')}</b>
      {readings.map((reading) => (
        <>
          {' '}
          <span class="reading" key={reading.what}>
            {reading.what.replaceAll('-', ' ')} <Blank /> {reading.unit}
          </span>
          {reading.limit ? <span class="soft"> (limit: {reading.limit})</span> : null}
        </>
      ))}
    </p>
  );
}

function HowTo({ upkeep }: { readonly upkeep: Upkeep }) {
  return (
    <>
      <ol>
        {upkeep.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      {upkeep.figures?.map((figure) => (
        <p key={figure.what}>
          <b>{capital(figure.what)}:</b> {figureText(figure)}
        </p>
      ))}
      {upkeep.skill === 'owner' ? null : (
        <p>
          <b>Hands:</b> {upkeep.skill === 'licensed' ? 'licensed hands only' : 'careful owner, with the handbook open'}.
        </p>
      )}
    </>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
type Figure = NonNullable<Upkeep['figures']>[number];

function figureText({ is, from, to }: Figure): string {
  if (is) return formatQuantity(is);
  return [from, to]
    .map((bound) => (bound ? formatQuantity(bound) : ''))
    .filter(Boolean)
    .join(' to ');
}
