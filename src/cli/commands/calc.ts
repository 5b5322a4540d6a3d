/** `calc`: any calculation of the register. `code`: what is moulded or stamped on the rig. */
import type { Command } from 'commander';
import {
  type Calculation,
  type CalculationField,
  calculation,
  calculations,
  inputFields,
  quantityText,
  runCalculation,
} from '../../calculations/index.ts';
import { parseDate } from '../../dates/index.ts';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { isUnitId, type Quantity } from '../../quantity/index.ts';
import { ANSWERED, NOT_RIGHT, refuse, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import { paragraph, table } from '../view/text.ts';
import type { Done } from './options.ts';

interface CalcOptions {
  readonly json?: boolean;
  readonly help?: boolean;
  /** The whole input as one JSON text. */
  readonly input?: string;
}

/** `pressure=65 psi axle.load=2540 lb` as the JSON that the calculation reads. */
function inputOf(
  words: readonly string[],
  fields: readonly CalculationField[],
): { input: Record<string, unknown>; problems: Problem[] } {
  const input: Record<string, unknown> = {};
  const problems: Problem[] = [];
  for (const word of words) {
    const [, path, text] = /^([\w.]+)=(.*)$/s.exec(word) ?? [];
    if (path === undefined || text === undefined) {
      problems.push({
        code: 'cli.calc-field',
        what: `“${word}” is no field`,
        expected: 'NAME=VALUE, such as "pressure=65 psi"',
      });
      continue;
    }
    put(input, path.split('.'), readField(text, fieldAt(fields, path.split('.'))));
  }
  return { input, problems };
}

function fieldAt(
  fields: readonly CalculationField[] | undefined,
  [name, ...rest]: readonly string[],
): CalculationField | undefined {
  const field = fields?.find((one) => one.name === name);
  return rest.length === 0 ? field : fieldAt(field?.fields, rest);
}

function readField(text: string, field: CalculationField | undefined): unknown {
  if (field?.kind === 'number' && text.trim() !== '' && Number.isFinite(Number(text))) return Number(text);
  if (field?.kind === 'yes-no' && /^(yes|no|true|false)$/i.test(text)) return /^(yes|true)$/i.test(text);
  if (field?.kind === 'list' || field?.kind === 'group') {
    try {
      return JSON.parse(text);
    } catch {
      return text;
    }
  }
  return text;
}

function put(into: Record<string, unknown>, [name, ...rest]: readonly string[], value: unknown): void {
  if (rest.length === 0) {
    into[name!] = value;
    return;
  }
  const inner = into[name!];
  const group = typeof inner === 'object' && inner !== null ? (inner as Record<string, unknown>) : {};
  into[name!] = group;
  put(group, rest, value);
}

function isQuantity(value: unknown): value is Quantity {
  return (
    typeof value === 'object' &&
    value !== null &&
    'unit' in value &&
    'value' in value &&
    typeof value.value === 'number' &&
    isUnitId(String(value.unit))
  );
}

function answerLines(value: unknown, indent: string): string[] {
  if (Array.isArray(value))
    return value.flatMap((one) =>
      typeof one === 'object' ? ['', ...answerLines(one, indent)] : [paragraph(String(one), `${indent}- `)],
    );
  return Object.entries(value as Record<string, unknown>).flatMap(([name, inner]) => {
    if (inner === undefined || name === 'cautions' || name === 'assumed') return [];
    if (isQuantity(inner)) return [`${indent}${name}: ${quantityText(inner)}`];
    if (typeof inner === 'object' && inner !== null) return [`${indent}${name}:`, ...answerLines(inner, `${indent}  `)];
    return [paragraph(`${name}: ${inner === null ? 'none' : String(inner)}`, indent)];
  });
}

function helpText(found: Calculation): string {
  const rows = inputFields(found).map((field) => [
    `${field.name}${field.required ? '' : '?'}`,
    [field.text, field.expected, field.choices?.join(' | ')].filter(Boolean).join('; '),
  ]);
  const example = Object.entries(found.example.input).map(
    ([name, value]) => `"${name}=${typeof value === 'object' ? JSON.stringify(value) : value}"`,
  );
  return [
    `${found.title} (${found.id})`,
    paragraph(found.summary),
    '',
    table([{ head: 'field' }, { head: 'meaning', grows: true }], rows),
    '',
    paragraph(`rigworthy calc ${found.id} ${example.join(' ')}`, '  '),
    paragraph(`Holds for: ${found.range}`),
    ...found.sources.map((source) =>
      paragraph(`${source.text} (${source.kind}${source.tag ? `, from ${source.tag}` : ''})`, 'Source: '),
    ),
  ].join('\n');
}

async function calc(id: string | undefined, words: readonly string[], options: CalcOptions, io: Io): Promise<number> {
  if (id === undefined || id === 'list') {
    if (options.json)
      writeJson(
        io,
        calculations.map(({ id: name, title, room, summary }) => ({ id: name, title, room, summary })),
      );
    else
      io.out(
        `${table(
          [{ head: 'calculation' }, { head: 'answers', grows: true }],
          calculations.map((one) => [one.id, one.summary]),
        )}\n`,
      );
    return ANSWERED;
  }
  const found = calculation(id);
  if (found && (options.help || (words.length === 0 && options.input === undefined))) {
    if (options.json)
      writeJson(io, { id: found.id, title: found.title, fields: inputFields(found), example: found.example });
    else io.out(`${helpText(found)}\n`);
    return ANSWERED;
  }
  const { input, problems } = found ? inputOf(words, inputFields(found)) : { input: {}, problems: [] };
  const whole = wholeInput(options.input);
  if (!whole.ok || problems.length) return refuse(io, [...problems, ...(whole.ok ? [] : whole.problems)], options.json);
  return run(id, { ...whole.value, ...input }, options, io);
}

/** `--input '{"gauge": "65 psi"}'`; single fields after it are laid over it. */
function wholeInput(text: string | undefined): Result<Record<string, unknown>> {
  const wrong = (what: string) =>
    fail<Record<string, unknown>>({
      code: 'cli.calc-input',
      what,
      where: '--input',
      expected: 'a JSON object, such as {"gauge": "65 psi"}',
    });
  if (text === undefined) return ok({});
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return ok({ ...value });
    return wrong('The input is not an object');
  } catch {
    return wrong('The input is not JSON');
  }
}

function run(
  id: string,
  input: Record<string, unknown>,
  options: CalcOptions,
  io: Io,
  codeOf: (answer: Record<string, unknown>) => number = () => ANSWERED,
): number {
  const answer = runCalculation(id, input);
  if (!answer.ok) return refuse(io, answer.problems, options.json);
  const exit = codeOf({ ...answer.value });
  if (options.json) {
    writeJson(io, answer.value);
    return exit;
  }
  const { cautions, assumed = [] } = answer.value;
  const lines = [
    calculation(id)!.title,
    ...answerLines(answer.value, '  '),
    ...assumed.map((one) => paragraph(`Assumed: ${one}`, '  ')),
    ...cautions.map((one) => paragraph(`Caution: ${one}`, '  ')),
  ];
  for (const source of calculation(id)!.sources)
    lines.push(paragraph(`${source.text} (${source.kind}${source.tag ? `, from ${source.tag}` : ''})`, '  Source: '));
  io.out(`${lines.join('\n')}\n`);
  return exit;
}

/** What can be stamped, and the calculation that reads it. */
const CODES = { tire: 'tire-code', vin: 'vin-code', cylinder: 'cylinder-code', label: 'label-date' } as const;

async function code(
  what: string,
  words: readonly string[],
  options: CalcOptions & { now?: string },
  io: Io,
): Promise<number> {
  const id = CODES[what as keyof typeof CODES];
  if (id === undefined)
    return refuse(
      io,
      [{ code: 'cli.code-kind', what: `There is no code of a “${what}”`, expected: Object.keys(CODES).join(', ') }],
      options.json,
    );
  const now = parseDate(options.now ?? io.today());
  if (!now.ok) return refuse(io, [{ ...now.problems[0]!, where: '--now' }], options.json);
  return run(id, { text: words.join(' '), today: now.value }, options, io, (answer) =>
    answer.valid === false ? NOT_RIGHT : ANSWERED,
  );
}

/** `rigworthy calc ID NAME=VALUE …` and `rigworthy code tire 0721`. */
export function addCalculations(program: Command, io: Io, done: Done): void {
  const command = program
    .command('calc')
    .helpOption(false)
    .description('any single calculation; without fields it says what it needs, without a name it lists all')
    .argument('[id]', 'which calculation')
    .argument('[fields...]', 'NAME=VALUE, such as "pressure=65 psi"')
    .option('--input <json>', 'all fields as one JSON object')
    .option('-h, --help', 'what the calculation needs, from its schema')
    .option('--json', 'print JSON')
    .action((id: string | undefined, words: string[], options: CalcOptions) => {
      if (options.help && id === undefined) command.outputHelp();
      return done(options.help && id === undefined ? Promise.resolve(ANSWERED) : calc(id, words, options, io));
    });
  program
    .command('code')
    .description('what is moulded or stamped: tire, vin, cylinder, label')
    .argument('<what>', Object.keys(CODES).join(', '))
    .argument('<text...>', 'as it stands on the part')
    .option('--now <date>', 'today (default: today)')
    .option('--json', 'print JSON')
    .action((what: string, words: string[], options: CalcOptions & { now?: string }) =>
      done(code(what, words, options, io)),
    );
}
