/** Cautions before the work they belong to: the first ones in sight, a long list's rest one press away. */
export function Cautions({
  cautions,
  lead = 'Before anything:',
}: {
  readonly cautions: readonly string[];
  readonly lead?: string;
}) {
  if (cautions.length === 0) return null;
  const shown = cautions.length <= IN_SIGHT + 1 ? cautions : cautions.slice(0, IN_SIGHT);
  const rest = cautions.slice(shown.length);
  return (
    <div class="caution">
      <b>{lead}</b> {shown.join(' ')}
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more cautions</summary>
          <ul class="more-cautions">
            {rest.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

const IN_SIGHT = 3;
