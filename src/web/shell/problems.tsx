import type { Problem } from '../../problem/index.ts';

/** A sentence ends once. */
export const sentence = (text: string): string => (/[.!?…]$/.test(text) ? text : `${text}.`);

/** In place of an answer that is not there yet: what is being done for it, or why it will not come. */
export function NotYet({ problems, doing }: { readonly problems: readonly Problem[]; readonly doing: string }) {
  if (problems.length > 0) return <Problems problems={problems} />;
  return (
    <p class="soft" aria-busy="true">
      {doing}
    </p>
  );
}

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
