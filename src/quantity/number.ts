/**
 * Numbers as people write them.
 *
 * Separators. A comma followed by groups of exactly three digits, after one to three digits that do not start with 0, is
 * a thousands separator (`18,204.6`, `2,540`). Any other single comma is a decimal comma (`3,4`, `12,65`, `0,125`). Where
 * both stand, the last one is the decimal mark (`1.234,5`), and the other must group by threes. A single dot is always a
 * decimal point (`1.234` is a little over one); several dots group by threes. A space between groups of three is a
 * thousands separator too (`18 204.6`), whatever its width. Fractions: `1/4`, `1 1/2`, `7-1/2`, `½`, `7½`.
 */

const SPACES = /[\u00a0\u2000-\u200b\u202f\u205f\u3000\ufeff\t\r\n ]+/g;
const VULGAR: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** One kind of space, one kind of minus, fractions spelled out; trimmed. */
export function plainText(text: string): string {
  return text
    .replace(SPACES, ' ')
    .replace(/[−–‒﹣-]/g, '-')
    .replace(/⁄/g, '/')
    .replace(
      /(\d?)\s*([¼½¾⅓⅔⅛⅜⅝⅞])/g,
      (_, before: string, sign: string) => `${before === '' ? '' : `${before} `}${VULGAR[sign]}`,
    )
    .trim();
}

const FRACTION = /^(?:(\d+)(?: | ?- ?))?(\d+) ?\/ ?(\d+)(?![\d/])/;
const SPACED = /^[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?(?![\d.,])/;
const PLAIN = /^(?:\d[\d.,]*|\.\d+)(?:[eE][+-]?\d+)?/;

/** `18,204.6` → 18204.6 by the rule at the top of this file, or null. */
function separated(text: string): number | null {
  const [, mantissa = '', exponent = ''] = /^([\d.,]+)((?:[eE].*)?)$/.exec(text) ?? [];
  const forms: readonly [RegExp, (t: string) => string][] = [
    [/^\d*\.?\d+$|^\d+\.$/, (t) => t],
    [/^[1-9]\d{0,2}(,\d{3})+(\.\d*)?$/, (t) => t.replaceAll(',', '')],
    [/^\d+,\d+$/, (t) => t.replace(',', '.')],
    [/^[1-9]\d{0,2}(\.\d{3})+,\d+$/, (t) => t.replaceAll('.', '').replace(',', '.')],
    [/^[1-9]\d{0,2}(\.\d{3}){2,}$/, (t) => t.replaceAll('.', '')],
  ];
  for (const [form, clean] of forms) if (form.test(mantissa)) return Number(clean(mantissa) + exponent);
  return null;
}

/** The number a text starts with and what follows it, or null where there is none. The text is plain (see plainText). */
export function leadingNumber(text: string): { readonly value: number; readonly rest: string } | null {
  const [, signText = '', body = ''] = /^([+-]?) ?(.*)$/.exec(text) ?? [];
  const sign = signText === '-' ? -1 : 1;
  const fraction = FRACTION.exec(body);
  if (fraction !== null) {
    const value = Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
    return Number.isFinite(value)
      ? { value: value === 0 ? 0 : sign * value, rest: body.slice(fraction[0].length).trim() }
      : null;
  }
  const spaced = SPACED.exec(body);
  if (spaced !== null) {
    const value = Number(spaced[0].replaceAll(' ', '').replace(',', '.'));
    return { value: value === 0 ? 0 : sign * value, rest: body.slice(spaced[0].length).trim() };
  }
  const plain = PLAIN.exec(body);
  if (plain === null) return null;
  const value = separated(plain[0]);
  if (value === null || !Number.isFinite(value)) return null;
  return { value: value === 0 ? 0 : sign * value, rest: body.slice(plain[0].length).trim() };
}
