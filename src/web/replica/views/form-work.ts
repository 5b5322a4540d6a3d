import type { Upkeep } from '../../../catalog/index.ts';
import { odometerTrack, partsOf } from '../../../logbook/index.ts';
import { unitSymbol } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import { partName, readingName } from './entry-text.ts';
import type { FormSpec } from './form.ts';
import { measured } from './form-choices.ts';
import { type Choice, type Field, fieldsOf, labelOf } from './form-fields.ts';
import { kindTitle } from './form-kinds.ts';
import { toldBy } from './told.ts';

/** A duty done on one part. */
export interface Job {
  readonly upkeep: string;
  readonly part: string;
}

export const NOT_DONE = 'not done';
/** Of an afternoon's work seldom noted down. */
const SELDOM: ReadonlySet<string> = new Set(['odometerTow', 'minutes', 'cost', 'doneBy']);

/** A job done on one part or several, each with its readings: a whole afternoon in one form. */
export function workForm(keeper: Keeper, jobs: readonly Job[]): FormSpec {
  const { system } = toldBy(keeper);
  const duties = jobs.map(({ upkeep }) => keeper.catalog.upkeeps.get(upkeep)).filter((one) => one !== undefined);
  const one = duties.length > 0 && duties.every((duty) => duty.id === duties[0]!.id) ? duties[0] : undefined;
  const told = jobs.map((job, index) => jobFields(keeper, jobs, job, index));
  return {
    kind: 'work',
    title: one ? one.title : jobs.length === 0 ? kindTitle('work') : `Which of ${jobs.length} jobs are done?`,
    on: keeper.today,
    latest: keeper.today,
    fields: [
      ...told.flatMap(({ fields }) => fields),
      ...fieldsOf('work', system).map((field) => ({
        ...field,
        ...(field.path === 'odometer' ? odometerNow(keeper) : {}),
        ...(SELDOM.has(field.path) ? { seldom: true } : {}),
      })),
    ],
    fixed: told.flatMap(({ fixed }) => fixed),
    several: jobs.length > 1,
    ...cautionsOf(keeper, duties),
    photos: true,
  };
}

/** Work begun from nothing: first which job, then what that job asks. */
export function anyWorkForm(keeper: Keeper, chosen: string): FormSpec {
  const [upkeep, part] = chosen.split('@');
  const form = workForm(keeper, upkeep && part ? [{ upkeep, part }] : []);
  const job: Field = {
    ...{ path: 'job', label: 'What was done', group: '', type: 'choice', required: true, value: chosen, help: '' },
    ...{ choices: [{ value: '', label: '–' }, ...jobsThere(keeper)], turns: true },
  };
  const fields = chosen === '' ? [job] : [job, ...form.fields];
  return { ...form, title: kindTitle('work'), fields };
}

/** Every duty on every part of the rig, by its name. */
function jobsThere(keeper: Keeper): Choice[] {
  const told = toldBy(keeper);
  return partsOf(keeper.state)
    .flatMap((part) =>
      (keeper.catalog.upkeepsOf.get(part.kind) ?? [])
        .filter((upkeep) => !upkeep.drill)
        .map((upkeep) => ({
          value: `${upkeep.id}@${part.id}`,
          label: `${upkeep.title}: ${partName(told, part.id)}`,
        })),
    )
    .sort((a, b) => a.label.localeCompare(b.label, 'en'));
}

function jobFields(
  keeper: Keeper,
  jobs: readonly Job[],
  { upkeep, part }: Job,
  index: number,
): { readonly fields: Field[]; readonly fixed: (readonly [string, unknown])[] } {
  const told = toldBy(keeper);
  const duty = keeper.catalog.upkeeps.get(upkeep);
  const alike = jobs.every((job) => job.upkeep === upkeep);
  const group =
    jobs.length === 1 ? '' : alike ? partName(told, part) : `${duty?.title ?? upkeep}: ${partName(told, part)}`;
  const at = `done.${index}`;
  const outcome: Field = {
    ...{ path: `${at}.outcome`, label: 'Outcome', group, type: 'choice', required: true, help: '', aside: true },
    // Of a whole afternoon only what is ticked counts as done; whoever opens the form of one job has done it.
    value: jobs.length > 1 ? NOT_DONE : 'good',
    choices: [
      ...(jobs.length > 1 ? [{ value: NOT_DONE, label: 'Not done' }] : []),
      { value: 'good', label: 'Good' },
      { value: 'failed', label: 'Failed' },
    ],
  };
  const readings = duty?.readings ?? [];
  return {
    fields: [
      outcome,
      ...readings.map((reading, count) =>
        measured(
          {
            ...{
              path: `${at}.readings.${count}.value`,
              label: labelOf(readingName(reading.what)),
              group,
              type: 'text',
            },
            ...{ required: false, value: '', help: reading.limit ? `Limit ${reading.limit}` : '' },
          },
          reading.unit,
          told.system,
        ),
      ),
    ],
    fixed: [
      [`${at}.upkeep`, upkeep],
      [`${at}.part`, part],
      ...readings.map(({ what }, count) => [`${at}.readings.${count}.what`, what] as const),
    ],
  };
}

/** What odometer the trailer shows, as far as is known. */
function odometerNow(keeper: Keeper): { readonly value: string; readonly unit?: string } {
  const newest = odometerTrack(keeper.state, 'trailer').newest;
  return newest ? { value: String(newest.shownMiles), unit: unitSymbol('mi') } : { value: '' };
}

function cautionsOf(keeper: Keeper, duties: readonly Upkeep[]): { cautions: string[]; steps: string[] } {
  const setups = [...new Set(duties.flatMap((duty) => duty.setups))].flatMap(
    (id) => keeper.catalog.setups.get(id) ?? [],
  );
  const cautions = [...setups.flatMap((setup) => setup.cautions), ...duties.flatMap((duty) => duty.cautions)];
  const steps = duties.length === 1 ? [...setups.flatMap((setup) => setup.steps), ...duties[0]!.steps] : [];
  return { cautions: [...new Set(cautions)], steps };
}
