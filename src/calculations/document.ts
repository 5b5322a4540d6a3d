/** The register as a page to read: `docs/calculations.md`, written by `scripts/calculations-doc.ts`. */

import { unwrap } from '../problem/index.ts';
import { isUnitId, type Quantity } from '../quantity/index.ts';
import { type Calculation, type CalculationRoom, quantityText } from './calculation.ts';
import { type CalculationField, inputFields, outputFields } from './describe.ts';
import type { Law } from './envelope.ts';
import { runWith } from './run.ts';

const ROOMS: Readonly<Record<CalculationRoom, string>> = {
  codes: 'Codes',
  tires: 'Tires',
  loads: 'Loads',
  gas: 'Gas',
  power: 'Power',
  water: 'Water',
  brakes: 'Brakes and wheel nuts',
};

function isQuantity(value: unknown): value is Quantity {
  return (
    value !== null &&
    typeof value === 'object' &&
    'value' in value &&
    typeof value.value === 'number' &&
    'unit' in value &&
    isUnitId(String(value.unit))
  );
}

/** A value of an answer in words: `67.47 psi`, `at least 11 A, at most 12 A`. */
function valueText(value: unknown): string {
  if (value === null) return 'none';
  if (isQuantity(value)) return quantityText(value);
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(valueText).join('; ');
  if (typeof value === 'object') {
    const { low, high } = value as { low?: unknown; high?: unknown };
    if (isQuantity(low) && isQuantity(high)) return `${quantityText(low)} to ${quantityText(high)}`;
    return Object.entries(value)
      .map(([key, part]) => `${key} ${valueText(part)}`)
      .join(', ');
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number' ? String(Number(value.toPrecision(8))) : String(value);
}

function kindText(field: CalculationField): string {
  const kind =
    field.kind === 'quantity'
      ? field.dimension!.replaceAll('-', ' ')
      : field.kind === 'choice'
        ? field.choices!.map((choice) => `\`${choice}\``).join(' or ')
        : field.kind;
  return field.required ? kind : `${kind}, may be left out`;
}

function fieldLines(fields: readonly CalculationField[], depth: number): readonly string[] {
  return fields.flatMap((field) => {
    const text = field.text === '' ? '' : `: ${field.text}`;
    const own = field.name === '' ? [] : [`${'  '.repeat(depth)}- \`${field.name}\` (${kindText(field)})${text}`];
    return [...own, ...fieldLines(field.fields ?? [], depth + (own.length > 0 ? 1 : 0))];
  });
}

/** JSON on one line, with spaces. */
function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const parts = Object.entries(value).map(([key, part]) => `${JSON.stringify(key)}: ${inline(part)}`);
  return `{ ${parts.join(', ')} }`;
}

/** JSON with one field of the input a line. */
function exampleText(input: Readonly<Record<string, unknown>>): string {
  const lines = Object.entries(input).map(([key, value]) => `  ${JSON.stringify(key)}: ${inline(value)}`);
  return `{\n${lines.join(',\n')}\n}`;
}

const SHARED = new Set(['cautions', 'assumed', 'sourcesUsed', 'limitedBy']);

function section(one: Calculation): string {
  const answer = unwrap(runWith(one, one.example.input));
  const outputs = outputFields(one).filter((field) => !SHARED.has(field.name));
  const shown = outputs.filter((field) => answer[field.name] !== undefined);
  const sources = one.sources.map(
    (source) =>
      `- ${source.kind}: ${source.text}${source.tag === 'memory' ? ' (from memory, the document not seen)' : ''}`,
  );
  return [
    `### ${one.title} (\`${one.id}\`)`,
    one.summary,
    `**Formula** ${one.formula}  \n**Range** ${one.range}`,
    `**Asks for**\n\n${fieldLines(inputFields(one), 0).join('\n')}`,
    `**Answers**\n\n${outputs.map((field) => `- \`${field.name}\`${field.text === '' ? '' : `: ${field.text}`}`).join('\n')}`,
    `**Example**\n\n\`\`\`json\n${exampleText(one.example.input)}\n\`\`\``,
    shown.map((field) => `- \`${field.name}\`: ${valueText(answer[field.name])}`).join('\n') +
      (typeof answer.limitedBy === 'string' ? `\n- limited by ${answer.limitedBy}` : ''),
    `**Cautions**\n\n${answer.cautions.map((caution) => `- ${caution}`).join('\n')}`,
    `**Sources**\n\n${sources.join('\n')}`,
  ].join('\n\n');
}

const direction = (worse: Law['worse']): string => (typeof worse === 'string' ? worse : worse.join(' → '));

/** `more load → pressure never less`. */
function lawText({ input, worse, output, severer }: Law): string {
  const never =
    severer === 'greater' ? 'never less' : severer === 'lesser' ? 'never more' : `never back from ${severer.at(-1)}`;
  return typeof worse === 'string'
    ? `${direction(worse)} \`${input}\`: \`${output}\` ${never}`
    : `\`${input}\` ${direction(worse)}: \`${output}\` ${never}`;
}

/** Every calculation with what it promises at its edges. */
function envelopeTable(calculations: readonly Calculation[]): string {
  const cell = (text: string): string => text.replaceAll('|', '\\|');
  const rows = calculations.flatMap((one) => {
    const { envelope } = one;
    if (envelope === undefined) return [];
    const { minimum, floor, reserve, ceiling, rounding, laws } = envelope;
    const cells = [`\`${one.id}\``, minimum, floor, reserve, ceiling, rounding, laws.map(lawText).join('; ') || 'none'];
    return [`| ${cells.map(cell).join(' | ')} |`];
  });
  return [
    '## Safety envelopes',
    'What each calculation asks of its input, the limits of its answer, and the way it errs. Tests move every input named under *laws* over its whole range, with all others varied: the worse input never gives the milder answer. Figures outside of what a field can hold are refused.',
    [
      '| calculation | valid from | floor | reserve | ceiling | rounding | laws |',
      '|---|---|---|---|---|---|---|',
      ...rows,
    ].join('\n'),
  ].join('\n\n');
}

/** The whole page. Every example is run to write it. */
export function calculationsDocument(calculations: readonly Calculation[]): string {
  const rooms = [...new Set(calculations.map((one) => one.room))];
  const head = [
    '# Calculations',
    'Written from the register in `src/calculations` by `npx tsx scripts/calculations-doc.ts`; do not edit by hand. A test keeps it in step and runs every example.',
    'Run one with `rigworthy calc ID --input JSON`. Quantities are written with their unit (`"50 psi"`, `"3,4 bar"`, `"7 1/2 in"`) or as `{"value": 50, "unit": "psi"}`; answers come in the unit system of the question and are rounded only when shown. Pressures are gauge pressures unless a field says otherwise.',
    'Each answer also says what limits it, what it assumed, and its cautions. Makers’ handbooks, placards, local codes and licensed practice outrank everything here.',
  ];
  const index = rooms.map((room) => {
    const own = calculations.filter((one) => one.room === room);
    return `- ${ROOMS[room]}: ${own.map((one) => `\`${one.id}\``).join(', ')}`;
  });
  const body = rooms.map((room) =>
    [`## ${ROOMS[room]}`, ...calculations.filter((one) => one.room === room).map(section)].join('\n\n'),
  );
  return `${[...head, index.join('\n'), ...body, envelopeTable(calculations)].join('\n\n')}\n`;
}
