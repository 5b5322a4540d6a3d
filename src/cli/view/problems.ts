import { type Problem, problemText } from '../../problem/index.ts';
import { paragraph } from './text.ts';

const SHOWN_MAX = 20;

/** Problems for a person at a terminal. */
export function problemsText(problems: readonly Problem[]): string {
  const shown = problems.slice(0, SHOWN_MAX).map((problem) => paragraph(problemText(problem), '! '));
  if (problems.length > SHOWN_MAX) shown.push(`… and ${problems.length - SHOWN_MAX} more.`);
  return `${shown.join('\n')}\n`;
}
