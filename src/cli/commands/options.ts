import type { Command } from 'commander';

/** Takes a command's work; its code becomes the program's. */
export type Done = (code: Promise<number>) => Promise<void>;

/** A command on a rig, with the options they all share. */
export function rigCommand(program: Command, name: string): Command {
  return storeCommand(program, name)
    .option('--rig <name>', 'which rig, where there are several')
    .option('--now <date>', 'the day the answer is for, such as 2026-06-12 (default: today)');
}

/** A command on everything that is kept. */
export function storeCommand(program: Command, name: string): Command {
  return placeOptions(program.command(name)).option('--demo', 'a throw-away copy of the demo rig, on its own day');
}

/** Where the logbooks are, and how the answer is told. */
export function placeOptions(command: Command): Command {
  return command
    .option('--data <folder>', 'where the logbooks lie (default: rigworthy in the XDG data folder)')
    .option('--database <url>', 'a PostgreSQL database instead, postgres://user@host/name')
    .option('--json', 'print JSON (docs/reference/json.md)');
}
