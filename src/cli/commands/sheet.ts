/** `sheet` and `calendar`: what is printed, carried, or taken into a calendar. */
import { createHash } from 'node:crypto';
import type { Command } from 'commander';
import { parseDate } from '../../dates/index.ts';
import { type Desk, openDesk } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import {
  calendarFeed,
  canonicalLogbook,
  historySheet,
  labelSheet,
  roadsideSheet,
  seasonSheet,
  sendOffSheet,
  sheetContext,
  yardSheet,
} from '../../sheets/index.ts';
import { ANSWERED, refuse, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import { isStandard, writeText } from '../files.ts';
import type { Io } from '../io.ts';
import type { RigOptions } from '../keeping.ts';
import { problemsText } from '../view/problems.ts';
import { type Done, rigCommand } from './options.ts';

interface OutOptions extends RigOptions {
  readonly out?: string;
  readonly force?: boolean;
}

interface SheetOptions extends OutOptions {
  readonly date?: string;
  readonly trip?: string;
  readonly address?: string;
}

const SHEETS = ['yard', 'send-off', 'season', 'roadside', 'history', 'labels'] as const;
type SheetName = (typeof SHEETS)[number];
/** What an option means for one sheet only. */
const OPTION_OF = { date: 'yard', trip: 'send-off', address: 'labels' } as const;
/** Where `serve` shows the page when nothing else is said. */
const OWN_ADDRESS = 'http://127.0.0.1:4780';

/** A document of a rig, written to a file or the standard output. */
async function document(
  options: OutOptions,
  io: Io,
  what: string,
  make: (desk: Desk, rig: string) => Result<string>,
): Promise<number> {
  return withRig(options, io, async (rig) => {
    const desk = openDesk(rig.state, shippedCatalog(), { now: rig.now });
    if (desk.catalogProblems.length) io.err(problemsText(desk.catalogProblems));
    const made = make(desk, rig.rig);
    if (!made.ok) return refuse(io, made.problems, options.json);
    if (isStandard(options.out)) {
      io.out(made.value);
      return ANSWERED;
    }
    const kept = await writeText(options.out, made.value, options.force);
    if (!kept.ok) return refuse(io, kept.problems, options.json);
    if (options.json) writeJson(io, { file: options.out, rig: rig.rig, logbook: hashOf(desk) });
    else io.out(`${what} of ${rig.name} is in ${options.out}.\n`);
    return ANSWERED;
  });
}

const hashOf = (desk: Desk): string => createHash('sha256').update(canonicalLogbook(desk.state)).digest('hex');

async function sheet(name: string, options: SheetOptions, io: Io): Promise<number> {
  if (!isSheet(name)) {
    const expected = SHEETS.join(', ');
    return refuse(io, [{ code: 'cli.sheet-unknown', what: `There is no sheet “${name}”`, expected }], options.json);
  }
  for (const [option, of] of Object.entries(OPTION_OF) as [keyof typeof OPTION_OF, SheetName][]) {
    if (options[option] === undefined || of === name) continue;
    const what = `--${option} belongs to the ${of} sheet, and says nothing about the ${name} sheet`;
    return refuse(io, [{ code: 'cli.option-unused', what, next: 'Leave it out.' }], options.json);
  }
  if (name === 'labels' && options.address === undefined)
    io.err(`The codes on the labels open ${OWN_ADDRESS}, on this machine only; --address names another.\n`);
  return document(options, io, `The ${name} sheet`, (desk) => sheetText(name, desk, options));
}

const isSheet = (name: string): name is SheetName => (SHEETS as readonly string[]).includes(name);

function sheetText(name: SheetName, desk: Desk, options: SheetOptions): Result<string> {
  const context = sheetContext(desk, hashOf(desk));
  switch (name) {
    case 'roadside':
      return ok(roadsideSheet(context));
    case 'history':
      return ok(historySheet(context));
    case 'labels':
      return labels(options.address ?? OWN_ADDRESS, (address) => labelSheet(context, address));
  }
  const plan = desk.plan();
  if (!plan.ok) return plan;
  if (name === 'season') return ok(seasonSheet(context, plan.value));
  if (name === 'send-off') {
    const sendOff = desk.sendoff(options.trip);
    return sendOff.ok ? ok(sendOffSheet(context, sendOff.value, plan.value)) : sendOff;
  }
  const asked = options.date === undefined ? ok(plan.value.days[0]?.date) : parseDate(options.date);
  if (!asked.ok) return fail({ ...asked.problems[0]!, where: '--date' });
  const day = plan.value.days.find(({ date }) => date === asked.value);
  if (day) return ok(yardSheet(context, plan.value, day.date));
  return fail({
    code: 'cli.sheet-no-yard-day',
    what: `No work is planned for ${asked.value ?? 'any day'}`,
    where: '--date',
    expected: plan.value.days.map(({ date }) => date).join(', ') || 'a plan with a yard day',
  });
}

function labels(text: string, make: (address: string) => string): Result<string> {
  const address = URL.canParse(text) ? new URL(text) : undefined;
  if (address && /^https?:$/.test(address.protocol)) return ok(make(address.href.replace(/\/+$/, '')));
  return fail({
    code: 'cli.address',
    what: `“${text}” is not the address of a page`,
    where: '--address',
    expected: 'something like https://rig.example',
  });
}

async function calendar(options: OutOptions, io: Io): Promise<number> {
  return document(options, io, 'The calendar', (desk, rig) => {
    const plan = desk.plan();
    return plan.ok ? ok(calendarFeed(desk, plan.value, rig)) : plan;
  });
}

/** `rigworthy sheet NAME` and `rigworthy calendar`. */
export function addSheets(program: Command, io: Io, done: Done): void {
  const out = (command: Command): Command =>
    command
      .option('--out <file>', 'where to; nothing or - for the standard output')
      .option('--force', 'replace the file if it is there');
  out(rigCommand(program, 'sheet').description('a page to print or carry, as HTML that needs nothing else'))
    .argument('<name>', SHEETS.join(', '))
    .option('--date <date>', 'yard: which yard day (default: the next one)')
    .option('--trip <trip>', 'send-off: which trip (default: the next one)')
    .option('--address <url>', `labels: what their codes open (default: ${OWN_ADDRESS})`)
    .action((name: string, options: SheetOptions) => done(sheet(name, options, io)));
  out(
    rigCommand(program, 'calendar').description('trips, yard days and deadlines for a calendar program (iCalendar)'),
  ).action((options: OutOptions) => done(calendar(options, io)));
}
