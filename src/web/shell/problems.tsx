import type { Problem } from '../../problem/index.ts';

/** A sentence ends once. */
export const sentence = (text: string): string => (/[.!?…]$/.test(text) ? text : `${text}.`);

/** What is wrong, what was expected, what to do: each problem on its own line. */
export function Problems({ problems }: { readonly problems: readonly Problem[] }) {
  if (problems.length === 0) return null;
  return (
    <div role="alert">
      <ul class="problems">
        {problems.slice(0, 12).map((problem) => (
          <li key={`${problem.code} ${problem.where} ${problem.what}`}>
            <b>{sentence(problem.what)}</b>
            {problem.where === undefined ? '' : ` Where: ${problem.where}.`}
            {problem.expected === undefined ? '' : ` Expected: ${sentence(problem.expected)}`}
            {problem.next === undefined ? '' : ` ${problem.next}`}
          </li>
        ))}
        {problems.length > 12 && <li>And {problems.length - 12} more.</li>}
      </ul>
    </div>
  );
}
