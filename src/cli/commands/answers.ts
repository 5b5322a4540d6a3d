/** `outlook`, `plan`, `sendoff`: the three answers of the desk. */
import type { Command } from 'commander';
import { formatDate } from '../../dates/index.ts';
import { type Desk, openDesk } from '../../desk/index.ts';
import { settingOf } from '../../logbook/index.ts';
import type { Result } from '../../problem/index.ts';
import type { System } from '../../quantity/index.ts';
import { ANSWERED, refuse, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { OpenRig, RigOptions } from '../keeping.ts';
import { outlookText } from '../view/outlook.ts';
import { planText } from '../view/plan.ts';
import { problemsText } from '../view/problems.ts';
import { sendOffText } from '../view/sendoff.ts';
import { type Done, rigCommand } from './options.ts';

interface AnswerOptions extends RigOptions {
  readonly all?: boolean;
  readonly why?: boolean;
}

/** What an answer looks like for a person. */
type View<T> = (value: T, title: string, how: { all: boolean; why: boolean; system: System }) => string;

async function answer<T>(
  options: AnswerOptions,
  io: Io,
  ask: (desk: Desk) => Result<T>,
  view: View<T>,
): Promise<number> {
  return withRig(options, io, async (rig) => {
    const desk = openDesk(rig.state, shippedCatalog(), { now: rig.now });
    // The owner's figures that could not be taken stand beside the answer, never inside it.
    if (desk.catalogProblems.length) io.err(problemsText(desk.catalogProblems));
    const asked = ask(desk);
    if (!asked.ok) return refuse(io, asked.problems, options.json);
    if (options.json) writeJson(io, asked.value);
    else
      io.out(
        view(asked.value, titleOf(rig), {
          all: options.all === true,
          why: options.why === true,
          system: settingOf(rig.state, 'units') ?? 'us',
        }),
      );
    return ANSWERED;
  });
}

export const titleOf = (rig: OpenRig): string =>
  `${rig.name} · ${formatDate(rig.now)}${rig.demo ? ' · demo, all invented' : ''}`;

/** The three commands. */
export function addAnswers(program: Command, io: Io, done: Done): void {
  const how = (command: Command): Command =>
    command
      .option('--all', 'show what is fine, too')
      .option('--why', 'say what each thing rests on: evidence, sources, cautions');

  how(
    rigCommand(program, 'outlook').description('when each upkeep runs out, and how many coming trips it lasts'),
  ).action((options: AnswerOptions) =>
    done(answer(options, io, (desk) => ({ ok: true, value: desk.outlook() }), outlookText)),
  );

  how(rigCommand(program, 'plan').description('which upkeep on which yard day, and what to do on the way')).action(
    (options: AnswerOptions) => done(answer(options, io, (desk) => desk.plan(), planText)),
  );

  how(rigCommand(program, 'sendoff').description('may the rig leave on the next trip, or on TRIP'))
    .argument('[trip]', 'id of a planned trip')
    .action((trip: string | undefined, options: AnswerOptions) =>
      done(answer(options, io, (desk) => desk.sendoff(trip), sendOffText)),
    );
}
