import type { Catalog } from '../catalog/index.ts';
import { type Draft, type RigState, understand } from '../logbook/index.ts';
import type { Problem } from '../problem/index.ts';
import { parseQuantity } from '../quantity/index.ts';
import { dateIn, type Mapping, plainNumber, type Table } from './table.ts';

/** What a spreadsheet would write: entries to be confirmed, and each line that would not, with its reasons. */
export interface Preview {
  readonly accepted: readonly { readonly line: number; readonly drafts: readonly Draft[]; readonly said: string }[];
  readonly rejected: readonly {
    readonly line: number;
    readonly cells: readonly string[];
    readonly problems: readonly Problem[];
  }[];
}

interface About {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly today: string;
}

/**
 * The lines of a table as entries, each read as the sentence its cells make up. Nothing is written: an import takes all lines or none.
 *
 * Problems by line: `table.date`, `table.future`, `table.blank`, `table.cost`, and those of the sentence.
 */
export function previewTable(table: Table, mapping: Mapping, about: About): Preview {
  const accepted: Preview['accepted'][number][] = [];
  const rejected: Preview['rejected'][number][] = [];
  for (const { line, cells } of table.rows) {
    const read = readLine(cells, mapping, about, `line ${line}`);
    if ('problems' in read) rejected.push({ line, cells, problems: read.problems });
    else accepted.push({ line, ...read });
  }
  return { accepted, rejected };
}

type LineRead =
  | { readonly drafts: readonly Draft[]; readonly said: string }
  | { readonly problems: readonly Problem[] };

function readLine(cells: readonly string[], mapping: Mapping, about: About, where: string): LineRead {
  const { columns, dateOrder, decimal, units } = mapping;
  const cell = (index: number | undefined): string => (index === undefined ? '' : (cells[index] ?? ''));
  const day = dateIn(cell(columns.date), dateOrder);
  if (!day) {
    return {
      problems: [
        {
          code: 'table.date',
          what: `“${cell(columns.date)}” is not a day`,
          where,
          expected: `a day written ${dateOrder.split('').join(', ')}`,
        },
      ],
    };
  }
  if (day > about.today)
    return {
      problems: [
        { code: 'table.future', what: `${day} is in the future`, where, expected: `a day up to ${about.today}` },
      ],
    };
  const withUnit = (text: string, unit: string | undefined): string => {
    const number = plainNumber(text, decimal);
    return number && unit && !/[a-z°%$]/i.test(number) ? `${number} ${unit}` : number;
  };
  const odometer = withUnit(cell(columns.odometer), units.odometer);
  const said = [cell(columns.part), cell(columns.what), withUnit(cell(columns.value), units.value)]
    .filter(Boolean)
    .join(' ');
  const sentence = said ? (odometer ? `${said} at ${odometer}` : said) : odometer ? `odometer ${odometer}` : '';
  if (!sentence)
    return {
      problems: [{ code: 'table.blank', what: 'The line says neither what was done nor what was read', where }],
    };
  const understood = understand(sentence, { ...about, today: day });
  if (!understood.ok)
    return {
      problems: understood.problems.map((problem) => ({
        ...problem,
        where: problem.where ? `${where}, ${problem.where}` : where,
      })),
    };
  const cost = costOf(cell(columns.cost), decimal, where);
  if (typeof cost === 'object') return { problems: [cost] };
  const note = cell(columns.note);
  const drafts = understood.value.drafts.map((draft) => withExtras(draft, cost, note));
  return { drafts, said: understood.value.understood };
}

function costOf(text: string, decimal: Mapping['decimal'], where: string): number | undefined | Problem {
  if (!text) return undefined;
  const number = plainNumber(text, decimal).replace(/^[^\d-]+/, '');
  const read = parseQuantity(`$${number}`, 'money');
  if (read.ok && read.value.value >= 0) return read.value.value;
  return { code: 'table.cost', what: `“${text}” is not an amount of money`, where, expected: 'a number of 0 or more' };
}

/** Cost and note go where the kind of entry has a place for them. */
function withExtras(draft: Draft, cost: number | undefined, note: string): Draft {
  if (draft.kind !== 'work') {
    return note && draft.kind === 'reading' ? { ...draft, body: { ...draft.body, note } } : draft;
  }
  return { ...draft, body: { ...draft.body, ...(cost === undefined ? {} : { cost }), ...(note ? { note } : {}) } };
}
