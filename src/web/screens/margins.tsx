import './margins.css';
import type { MarginRow } from '../replica/views/margins.ts';

/** Loads against their ratings: how much of each is used, what is left, and where the rating was read. */
export function MarginTable({ margins }: { readonly margins: readonly MarginRow[] }) {
  return (
    <table class="margins">
      <thead>
        <tr>
          <th scope="col">Load and its rating</th>
          <th scope="col" class="bar-col">
            <span class="sr">Share of the rating used</span>
          </th>
          <th scope="col" class="n">
            Left
          </th>
        </tr>
      </thead>
      <tbody>
        {margins.map((row) => (
          <Margin key={row.what} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function Margin({ row }: { readonly row: MarginRow }) {
  const left = 100 - row.used;
  return (
    <tr>
      <th scope="row">
        {row.what}
        <small class="soft">
          {row.load} of {row.rating}, {row.origin}
        </small>
      </th>
      <td class="bar-col">
        <svg
          class={row.over ? 'bar over' : 'bar'}
          viewBox="0 0 100 12"
          preserveAspectRatio="none"
          width="100%"
          height="12"
          aria-hidden="true"
        >
          <path d="M1 0 V12 M99 0 V12" vector-effect="non-scaling-stroke" />
          <rect x="1" y="3" width={Math.min(98, row.used * 0.98)} height="6" />
        </svg>
      </td>
      <td class="n">
        {row.over && <b class="wrong">over </b>}
        {left.toFixed(0).replace('-', '−')} %<small class="soft">{row.margin}</small>
      </td>
    </tr>
  );
}
