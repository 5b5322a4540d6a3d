/** `waive`: the owner overrules one finding for one trip, and says why. */
import type { Command } from 'commander';
import { openDesk } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import type { Finding, SendOff } from '../../sendoff/index.ts';
import { refuse, withRig } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import { type WriteOptions, writeDown, writeOptions } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';

interface WaiveOptions extends WriteOptions {
  readonly trip: string;
  readonly reason: string;
}

const CANDIDATES_MAX = 8;

/** The finding that is meant. Problems: `cli.finding-unknown`, `cli.finding-passes`. */
function findingOf(id: string, { findings, trip }: SendOff): Result<Finding> {
  const found = findings.find((finding) => finding.id === id);
  if (found?.kind === 'pass') {
    return fail({
      code: 'cli.finding-passes',
      what: `Nothing is against leaving here: ${found.text}`,
      where: id,
      expected: 'a finding that stops or limits',
    });
  }
  if (found) return ok(found);
  const open = findings.filter((finding) => finding.kind !== 'pass' && !finding.waived).map((finding) => finding.id);
  const words = id.toLowerCase().split(/[^a-z0-9]+/);
  const near = open.filter((one) => words.some((word) => word.length > 2 && one.includes(word)));
  const shown = (near.length ? near : open).slice(0, CANDIDATES_MAX);
  return fail({
    code: 'cli.finding-unknown',
    what: `There is no finding “${id}” about ${trip.name}`,
    expected: shown.join(', ') || 'a finding; there is none',
    next: `\`rigworthy sendoff ${trip.id} --why\` names them all.`,
  });
}

async function waive(id: string, options: WaiveOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const sendOff = openDesk(rig.state, shippedCatalog(), { now: rig.now }).sendoff(options.trip);
    if (!sendOff.ok) return refuse(io, sendOff.problems, options.json);
    const finding = findingOf(id, sendOff.value);
    if (!finding.ok) return refuse(io, finding.problems, options.json);
    const { trip } = sendOff.value;
    const { text, cautions, kind, severity } = finding.value;
    const what = kind === 'stop' ? 'what stops us' : kind === 'limit' ? 'a limit' : 'what nobody has looked at';
    return writeDown(
      {
        drafts: [{ kind: 'waive', on: rig.now, body: { trip: trip.id, finding: id, reason: options.reason } }],
        understood: `Overrule ${what} (${severity}) for ${trip.name} only: ${text} Because: ${options.reason}.`,
        cautions,
      },
      rig,
      options,
      io,
    );
  });
}

/** `rigworthy waive FINDING --trip TRIP --reason WHY` */
export function addWaive(program: Command, io: Io, done: Done): void {
  writeOptions(
    rigCommand(program, 'waive').description(
      'overrule one finding for one trip; it stays in the logbook with its reason',
    ),
  )
    .argument('<finding>', 'id of the finding, as `sendoff --why` names it')
    .requiredOption('--trip <trip>', 'for which trip')
    .requiredOption('--reason <text>', 'why')
    .action((id: string, options: WaiveOptions) => done(waive(id, options, io)));
}
