import { encode } from 'uqr';

/** Modules of white round a code (ISO/IEC 18004 asks for four). */
const QUIET = 4;

/** A square code of a text, black on white whatever the page's colours, so that a phone reads it from the screen. */
export function Qr({ text, label }: { readonly text: string; readonly label: string }) {
  const { data, size } = encode(text, { ecc: 'M', border: QUIET });
  const path = data
    .flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : '')))
    .filter((part) => part !== '')
    .join('');
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={size} height={size} fill="#ffffff" />
      <path d={path} fill="#000000" />
    </svg>
  );
}
