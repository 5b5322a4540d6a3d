import { decodeCylinder, decodeLabel, decodeTireCode, decodeVin } from '../../../codes/index.ts';
import { formatDate } from '../../../dates/index.ts';
import { formatQuantity, type System } from '../../../quantity/index.ts';
import { loadOfIndex, symbolSpeed, tireTables } from '../../../tires/index.ts';

/** What a code says, while it is typed. `madeOn` where it gives the month or week of manufacture. */
export interface Decoded {
  readonly text: string;
  readonly madeOn: string;
}

const SHORTEST = 3;
const NOTHING: Decoded = { text: '', madeOn: '' };

/** `kind`: the kind of part the code stands on, or `vin`, or `tire-size` for what follows on a sidewall. */
export function decoded(kind: string, code: string, today: string, system: System = 'us'): Decoded {
  const text = code.trim();
  if (text.length < SHORTEST) return NOTHING;
  if (kind === 'vin') return vin(text, today);
  if (kind === 'tire-size') return { text: sizeText(text, system), madeOn: '' };
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

function vin(code: string, today: string): Decoded {
  const { valid, years, reason } = decodeVin(code, today);
  const year = years.length === 0 ? '' : `Model year ${years.join(' or ')}.`;
  return { text: valid ? said('The check digit is right.', year) : (reason ?? ''), madeOn: '' };
}

const SIZE = /^(ST|LT|P)?\s*(\d{3}\/\d{2}\s*[RBD]?\s*-?\d{2}(?:\.5)?)\s*(LT)?\s*(\d{2,3})?(?:\/\d{2,3})?\s*([A-Z])?$/i;
const bare = (size: string): string => size.toUpperCase().replace(/^(ST|LT|P)|[\s-]/g, '');

/** `ST225/75R15 117M`: what the load tables, the load index and the speed symbol say. */
function sizeText(text: string, system: System): string {
  const read = SIZE.exec(text);
  if (!read) return 'Not read as a size such as ST225/75R15.';
  const [, family = '', size = '', , index, symbol] = read;
  const rows = tireTables
    .filter((table) => table.fitment === 'single' && bare(table.size) === bare(size))
    .filter((table) => family === '' || table.family.startsWith(family.toUpperCase()))
    .flatMap((table) => table.rows);
  const most = rows.reduce<(typeof rows)[number] | undefined>((a, b) => (a && a[1] >= b[1] ? a : b), undefined);
  const shown = (value: number, unit: 'lb' | 'psi'): string => formatQuantity({ value, unit }, { system });
  const load = index === undefined ? undefined : loadOfIndex(Number(index));
  const speed = symbol === undefined ? undefined : symbolSpeed(symbol);
  return said(
    most
      ? `In the load tables up to ${shown(most[1], 'lb')} at ${shown(most[0], 'psi')}.`
      : 'No row of it in the load tables.',
    load?.ok
      ? `Load index ${index}: ${formatQuantity(load.value, { system, digits: 0 })} a tire.`
      : load?.problems[0]?.what,
    speed?.ok
      ? `Speed symbol ${symbol?.toUpperCase()}: ${formatQuantity(speed.value, { system, digits: 0 })}.`
      : speed?.problems[0]?.what,
  );
}
