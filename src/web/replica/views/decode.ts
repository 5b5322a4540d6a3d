import { decodeCylinder, decodeLabel, decodeTireCode } from '../../../codes/index.ts';
import { formatDate } from '../../../dates/index.ts';

/** What a code says, while it is typed. `madeOn` where it gives the month or week of manufacture. */
export interface Decoded {
  readonly text: string;
  readonly madeOn: string;
}

const SHORTEST = 3;
const NOTHING: Decoded = { text: '', madeOn: '' };

export function decoded(kind: string, code: string, today: string): Decoded {
  const text = code.trim();
  if (text.length < SHORTEST) return NOTHING;
  if (/tire/.test(kind)) return tire(text, today);
  return kind === 'lp-cylinder' ? cylinder(text, today) : label(text, today);
}

const said = (...parts: readonly (string | null | undefined)[]): string => parts.filter((part) => part).join(' ');

function tire(code: string, today: string): Decoded {
  const { valid, from, ambiguous, reason } = decodeTireCode(code, today);
  if (!valid || from === null) return { text: reason ?? '', madeOn: '' };
  return { text: said(`Made in the week from ${formatDate(from, 'day')}.`, reason), madeOn: ambiguous ? '' : from };
}

function cylinder(code: string, today: string): Decoded {
  const { valid, made, due, rule, reason, overdue } = decodeCylinder(code, today);
  if (!valid) return { text: reason ?? '', madeOn: '' };
  const by =
    due === null ? '' : `${overdue ? 'Was to be requalified' : 'To be requalified'} by the end of ${due}: ${rule}.`;
  return { text: said(made === null ? '' : `Made ${made}.`, by, reason), madeOn: made ?? '' };
}

function label(code: string, today: string): Decoded {
  const { valid, kind, from, to, due, ambiguous, reason, overdue } = decodeLabel(code, today);
  if (!valid || from === null || to === null) return { text: reason ?? '', madeOn: '' };
  if (kind === 'replace-by')
    return { text: said(`${overdue ? 'Was to be replaced' : 'Replace'} by ${due ?? to}.`, reason), madeOn: '' };
  const between =
    from === to ? formatDate(from, 'day') : `between ${formatDate(from, 'day')} and ${formatDate(to, 'day')}`;
  const month = from.slice(0, 7) === to.slice(0, 7) ? from.slice(0, 7) : from.slice(0, 4);
  return {
    text: said(`Made ${between}.`, due === null ? '' : `Its life ends ${due}.`, reason),
    madeOn: ambiguous ? '' : month,
  };
}
