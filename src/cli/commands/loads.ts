/** `loads`: what is left under every rating, from the newest weighing. */
import type { Command } from 'commander';
import { type Desk, openDesk } from '../../desk/index.ts';
import { settingOf, weighingsOf } from '../../logbook/index.ts';
import { type Finding, loadFigures, loadMargins } from '../../sendoff/index.ts';
import { ANSWERED, refuse, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { RigOptions } from '../keeping.ts';
import { type Loads, loadsText } from '../view/loads.ts';
import { problemsText } from '../view/problems.ts';
import { titleOf } from './answers.ts';
import { type Done, rigCommand } from './options.ts';

async function loads(options: RigOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const desk = openDesk(rig.state, shippedCatalog(), { now: rig.now });
    if (desk.catalogProblems.length) io.err(problemsText(desk.catalogProblems));
    const weighing = weighingsOf(rig.state).at(-1);
    const figures = weighing ? loadFigures(weighing) : undefined;
    if (figures && !figures.ok) {
      const where = `weighing of ${weighing!.on}, ${weighing!.id}`;
      return refuse(
        io,
        figures.problems.map((problem) => ({ ...problem, where })),
        options.json,
      );
    }
    const { cautions = [], ...known } = figures?.value ?? {};
    const answer: Loads = {
      now: rig.now,
      weighing: weighing
        ? { id: weighing.id, on: weighing.on, place: weighing.body.place ?? null, cargo: weighing.body.cargo ?? null }
        : null,
      figures: known,
      margins: loadMargins(rig.state, { ...known, cautions }),
      cautions,
      trip: null,
      findings: [],
      ...judged(desk),
    };
    if (options.json) writeJson(io, answer);
    else io.out(loadsText(answer, titleOf(rig), settingOf(rig.state, 'units') ?? 'us'));
    return ANSWERED;
  });
}

/** What the send-off of the next trip says of loads: whether the weighing still holds, the tongue’s share, each tire. */
function judged(desk: Desk): Pick<Loads, 'trip' | 'findings'> | undefined {
  const sendOff = desk.sendoff();
  if (!sendOff.ok) return undefined;
  const ofLoads = ({ group, id }: Finding): boolean => group === 'loads' || id.startsWith('tires/load');
  return { trip: sendOff.value.trip.id, findings: sendOff.value.findings.filter(ofLoads) };
}

/** `rigworthy loads` */
export function addLoads(program: Command, io: Io, done: Done): void {
  rigCommand(program, 'loads')
    .description('what is left under every rating, from the newest weighing')
    .action((options: RigOptions) => done(loads(options, io)));
}
