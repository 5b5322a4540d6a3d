/** The score of a room, and its row in `docs/internals/mutation.md`. */

import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Mutant } from './mutants.ts';
import { root } from './rooms.ts';

export interface Score {
  readonly all: number;
  readonly sample: number;
  readonly killed: number;
  readonly timedOut: number;
  readonly survived: number;
  readonly equivalent: number;
  /** (killed + timed out) / (sample − equivalents). */
  readonly share: number;
}

export function scoreOf(sample: readonly Mutant[], all: number, equivalent: ReadonlySet<Mutant>): Score {
  const count = (status: string) => sample.filter((m) => m.status === status && !equivalent.has(m)).length;
  const [killed, timedOut] = [count('Killed'), count('Timeout')];
  const judged = sample.length - equivalent.size;
  return {
    all,
    sample: sample.length,
    killed,
    timedOut,
    survived: judged - killed - timedOut,
    equivalent: equivalent.size,
    share: judged === 0 ? 0 : (killed + timedOut) / judged,
  };
}

const FILE = join(root, 'docs/internals/mutation.md');
const HEAD = `# Mutation runs

\`npm run mutate -- ROOM\` changes the code of a room in one place at a time (a sign, a bound, a condition) and asks whether a test of that
room falls. Made by the run itself, not part of \`npm test\`. How it is set up: [decision 070](../decisions/070-mutation.md).

Score = (killed + timed out) / (mutants run − equivalents). String literals are left out; numbers in tables are not changed by the tool,
and rest on the tests against published tables. Equivalents, with the reason for each, stand in \`test/mutation/equivalents.json\`. A
sample is drawn by the seed; \`npm run mutate -- ROOM --seed S --most N\` draws it again. The tree names the state of the room with its
tests, whatever commit carries it: \`git rev-parse HEAD:src/ROOM\`.

| room | commit | tree | seed | mutants | run | killed | timed out | survived | equivalent | score |
|---|---|---|---|---|---|---|---|---|---|---|
`;

/** Writes the row of a room over its old one; rows stand in order of name. */
export function writeRow(
  room: string,
  state: { readonly commit: string; readonly tree: string },
  seed: number,
  score: Score,
): void {
  const rows = new Map<string, string>();
  if (existsSync(FILE))
    for (const line of readFileSync(FILE, 'utf8').split('\n')) {
      const name = /^\| `(\w+)` \|/.exec(line)?.[1];
      if (name !== undefined) rows.set(name, line);
    }
  const cells = [
    `\`${room}\``,
    state.commit,
    state.tree,
    score.sample < score.all ? seed : 'all',
    score.all,
    score.sample,
    score.killed,
    score.timedOut,
    score.survived,
    score.equivalent,
    `${(Math.floor(score.share * 1000) / 10).toFixed(1)} %`,
  ];
  rows.set(room, `| ${cells.join(' | ')} |`);
  const sorted = [...rows].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
  writeFileSync(FILE, `${HEAD}${sorted.join('\n')}\n`);
}
