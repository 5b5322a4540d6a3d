import { Command, CommanderError } from 'commander';
import { ProblemError } from '../problem/index.ts';
import { ANSWERED, REFUSED, refuse } from './answer.ts';
import { addAccounts } from './commands/account.ts';
import { addAnswers } from './commands/answers.ts';
import { addCalculations } from './commands/calc.ts';
import { addChecks } from './commands/check.ts';
import { addCopies } from './commands/copies.ts';
import { addExchange } from './commands/exchange.ts';
import { addLoads } from './commands/loads.ts';
import { addLog } from './commands/log.ts';
import { addProof } from './commands/proof.ts';
import { addQuarantine } from './commands/quarantine.ts';
import { addRecovery } from './commands/recovery.ts';
import { addServe } from './commands/serve.ts';
import { addSheets } from './commands/sheet.ts';
import { addStrike } from './commands/strike.ts';
import { addTrip } from './commands/trip.ts';
import { addWaive } from './commands/waive.ts';
import type { Io } from './io.ts';
import { VERSION } from './version.ts';
import { problemsText } from './view/problems.ts';

/** Our own mistake. */
const MISTAKE = 70;

/**
 * Runs one command.
 *
 * @param argv the words after the program's name
 * @returns 0 answered · 1 what was looked at is not right (`check`, `catalog check`) · 2 bad input, nothing written · 70 our mistake
 */
export async function main(argv: readonly string[], io: Io): Promise<number> {
  let code = ANSWERED;
  const program = new Command('rigworthy')
    .description('Can we go? Upkeep, margins and send-off for the owner-mechanic of a towed travel trailer.')
    .version(VERSION)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.out(text),
      writeErr: (text) => io.err(text),
      getOutHelpWidth: () => 80,
      getErrHelpWidth: () => 80,
    })
    .showSuggestionAfterError()
    .addHelpText(
      'after',
      '\nNew here? `rigworthy sendoff --demo` judges the demo rig. Nothing here replaces\nthe makers’ handbooks, local codes, or licensed hands where they are asked for.',
    );
  const done = async (working: Promise<number>): Promise<void> => {
    code = await working;
  };
  for (const add of [
    addAnswers,
    addLoads,
    addLog,
    addTrip,
    addWaive,
    addStrike,
    addQuarantine,
    addSheets,
    addExchange,
    addCopies,
    addRecovery,
    addServe,
    addAccounts,
    addChecks,
    addProof,
    addCalculations,
  ])
    add(program, io, done);
  const json = argv.includes('--json');
  try {
    if (argv.length === 0) {
      program.outputHelp({ error: true });
      return REFUSED;
    }
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? ANSWERED : REFUSED;
    if (error instanceof ProblemError) return refuse(io, error.problems, json);
    io.err(
      problemsText([
        {
          code: 'cli.mistake',
          what: 'This is a mistake of the program, not yours',
          next: 'What it stumbled over stands below.',
        },
      ]),
    );
    io.err(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    return MISTAKE;
  }
}
