/** Weights under the wheels, front to rear, in words ready to be shown; none where nothing was weighed. */
export interface SideLoads {
  readonly front: string;
  readonly rear: string;
  readonly axles: string;
  readonly tongue: string;
}

/** The rig from the side: the tow vehicle's two axles, the coupling, the trailer's axles, and the weight each carries. */
export function RigSide(props: {
  readonly width: number;
  readonly axles: number;
  readonly towAxles: number;
  readonly label: string;
  readonly loads?: SideLoads | null;
}) {
  const { width, axles, loads } = props;
  const unit = width / 330;
  const height = (loads ? 138 : 100) * Math.max(1, unit * 0.8);
  const wheels = Array.from({ length: axles }, (_, index) => 226 + (index - (axles - 1) / 2) * 25);
  const forces = loads
    ? [
        { x: 27, text: loads.front },
        { x: 78, text: loads.rear },
        { x: 226, text: loads.axles },
      ]
    : [];
  return (
    <svg
      class="rig-side"
      viewBox={`0 0 330 ${loads ? 138 : 100}`}
      width={width}
      height={height}
      role="img"
      aria-label={spoken(props.label, loads)}
    >
      <path d="M4 86 H326" />
      <path d="M8 70 V52 Q8 46 14 46 H26 L36 28 H66 Q70 28 70 32 V46 H92 V70 Z" />
      <path d="M132 64 H98" />
      <circle cx="98" cy="64" r="3" />
      <rect x="132" y="20" width="190" height="50" rx="9" />
      {[27, 78, ...wheels].map((x) => (
        <circle key={x} class="wheel" cx={x} cy="76" r="10" />
      ))}
      {forces.map(({ x, text }) => (
        <g key={x} class="force">
          <path d={`M${x} 112 V92 M${x - 4} 98 L${x} 91 L${x + 4} 98`} />
          <text x={x} y="128" text-anchor="middle" font-size="13">
            {text}
          </text>
        </g>
      ))}
      {loads && (
        <g class="force">
          <path d="M98 36 V57 M94 50 L98 58 L102 50" />
          <text x="101" y="32" text-anchor="middle" font-size="13">
            {loads.tongue}
          </text>
        </g>
      )}
    </svg>
  );
}

function spoken(label: string, loads: SideLoads | null | undefined): string {
  if (!loads) return label;
  return `${label}. Front axle ${loads.front}, rear axle ${loads.rear}, trailer axles ${loads.axles}, tongue ${loads.tongue}.`;
}
