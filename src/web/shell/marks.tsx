import type { RoundStanding } from '../../sendoff/index.ts';

/** The marks of state: each a shape and a word before it is a colour. */

/** The judgement: an octagon for a hold, a square cornered by limits, a plain ring when clear. */
export function JudgementMark({ judgement }: { readonly judgement: 'clear' | 'limits' | 'hold' }) {
  if (judgement === 'hold') {
    return (
      <svg class="judgement hold" viewBox="0 0 60 60" role="img" aria-label="Hold">
        <polygon points="18,2 42,2 58,18 58,42 42,58 18,58 2,42 2,18" />
        <text x="30" y="35.5" text-anchor="middle">
          HOLD
        </text>
      </svg>
    );
  }
  if (judgement === 'limits') {
    return (
      <svg class="judgement limits" viewBox="0 0 60 60" role="img" aria-label="Clear with limits">
        <path d="M2,14 V2 H14 M46,2 H58 V14 M58,46 V58 H46 M14,58 H2 V46" />
        <text x="30" y="28" text-anchor="middle">
          WITH
        </text>
        <text x="30" y="42" text-anchor="middle">
          LIMITS
        </text>
      </svg>
    );
  }
  return (
    <svg class="judgement clear" viewBox="0 0 60 60" role="img" aria-label="Clear">
      <path d="M6,54 H54 M6,6 H54" />
      <text x="30" y="35.5" text-anchor="middle">
        CLEAR
      </text>
    </svg>
  );
}

/** Slack: one notch a coming trip, filled as far as it lasts. */
export function Notches({ slack, of }: { readonly slack: number; readonly of: number }) {
  const text = slack === 1 ? '1 trip left' : `${slack} trips left`;
  const count = Math.max(of, 1);
  return (
    <span class="slack">
      <svg class="notches" viewBox={`0 0 ${count * 10} 16`} width={count * 10} height="16" aria-hidden="true">
        {Array.from({ length: count }, (_, at) => (
          <rect key={at} x={at * 10 + 1} y="1" width="6" height="14" class={at < slack ? 'on' : ''} />
        ))}
      </svg>
      {text}.
    </span>
  );
}

/** Unproven: an open circle. */
export function OpenCircle() {
  return (
    <svg class="open-circle" viewBox="0 0 16 16" width="16" height="16" role="img" aria-label="Unproven">
      <circle cx="8" cy="8" r="6" />
    </svg>
  );
}

/** A box to tick: empty, ticked, crossed where something was found wrong, dashed where it is too early. */
export function TickMark({ standing }: { readonly standing: RoundStanding }) {
  return (
    <svg class="tick-mark" viewBox="0 0 32 32" width="32" height="32" role="img" aria-label={TICK_WORDS[standing]}>
      <rect x="2" y="2" width="28" height="28" stroke-dasharray={standing === 'early' ? '4 4' : 'none'} />
      {standing === 'good' && <path d="M8 17 L14 23 L25 9" stroke-width="4" />}
      {standing === 'wrong' && <path d="M9 9 L23 23 M23 9 L9 23" stroke-width="4" />}
      {standing === 'disputed' && <path d="M12 12 Q12 8 16 8 T20 12 Q20 15 16 16 V19 M16 22 V25" stroke-width="3" />}
      {standing === 'overruled' && <path d="M8 16 H24" stroke-width="4" />}
    </svg>
  );
}

const TICK_WORDS: Readonly<Record<RoundStanding, string>> = {
  open: 'Open:',
  early: 'Too early:',
  good: 'Done:',
  wrong: 'Found wrong:',
  disputed: 'In doubt:',
  overruled: 'Overruled:',
};

/** How a part stands, as a small sign with its word for those who do not see it. */
export function StandingMark({ standing }: { readonly standing: 'out' | 'unproven' | 'good' }) {
  const label = standing === 'out' ? 'Run out' : standing === 'unproven' ? 'Unproven' : 'In order';
  return (
    <svg class={`standing ${standing}`} viewBox="0 0 18 18" width="18" height="18" role="img" aria-label={label}>
      {standing === 'out' && <path d="M5.6 1 H12.4 L17 5.6 V12.4 L12.4 17 H5.6 L1 12.4 V5.6 Z" />}
      {standing === 'unproven' && <circle cx="9" cy="9" r="7" />}
      {standing === 'good' && <circle cx="9" cy="9" r="4" />}
    </svg>
  );
}
