import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Io, main } from '../../src/cli/index.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** The standard output as JSON. */
  readonly json: <T = Record<string, unknown>>() => T;
}

/** What is around one command. */
interface Setting {
  readonly answers?: readonly string[];
  /** What a person types who reads what was shown on the standard error. */
  readonly answer?: (question: string, shown: string) => string;
  /** The standard input. */
  readonly input?: string;
  /** What happens while the command waits to be ended. */
  readonly ended?: (out: () => string) => Promise<void>;
  readonly clock?: () => number;
}

/** A terminal of its own: a folder for data, a day, and what a person would type. */
export class Terminal {
  readonly folder = mkdtempSync(join(tmpdir(), 'rigworthy-cli-'));
  readonly #today: string;
  #ticks = 0;

  constructor(today = '2026-05-27') {
    this.#today = today;
  }

  /** Runs one command; `answers` are typed by a person at the terminal, none where nobody is there. */
  async run(argv: readonly string[], { answers, answer, input = '', ended, clock }: Setting = {}): Promise<Ran> {
    let out = '';
    let err = '';
    const typed = answers && [...answers];
    const io: Io = {
      out: (text) => {
        out += text;
      },
      err: (text) => {
        err += text;
      },
      input: async () => input,
      ask:
        (typed || answer) &&
        (async (question) => {
          err += question;
          return answer?.(question, err) ?? typed?.shift() ?? '';
        }),
      env: { XDG_DATA_HOME: this.folder, USER: 'Nell' },
      home: this.folder,
      today: () => this.#today,
      clock: clock ?? (() => Date.parse(`${this.#today}T18:00:00Z`) + this.#ticks++),
      random: () => 0.5,
      ended: () => ended?.(() => out) ?? Promise.resolve(),
      webFolder: undefined,
    };
    const code = await main(argv, io);
    return { code, out, err, json: () => JSON.parse(out) };
  }

  /** Removes the folder. */
  clear(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** Codes of the problems in a JSON answer. */
export function codesOf(ran: Ran): string[] {
  return ran.json<{ problems: { code: string }[] }>().problems.map((problem) => problem.code);
}

/** Columns of the widest line. */
export function widest(text: string): number {
  return Math.max(...text.split('\n').map((line) => [...line].length));
}

/** The demo rig's file. */
export const DEMO_FILE = new URL('../../demo/marigold.jsonl', import.meta.url).pathname;
