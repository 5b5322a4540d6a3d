/** Numbers, lists and times as a person says them. */

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/** `three`, and from thirteen on `13`. Zero is `no`. */
export function countWord(n: number): string {
  return NUMBERS[n] ?? String(n);
}

/** `one thing`, `three things`. */
export function counted(n: number, one: string, many = `${one}s`): string {
  return `${countWord(n)} ${n === 1 ? one : many}`;
}

/** `a`, `a and b`, `a, b and c`; where one of them has a comma of its own, `axle 1, left; axle 1, right`. */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items[0] ?? '';
  if (items.some((item) => item.includes(','))) return items.join('; ');
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)!}`;
}

/** The first letter large. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The first letter small, unless the word is an abbreviation (`LP`, `CO`). */
export function lower(text: string): string {
  return /^[A-Z][^A-Z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** Minutes rounded as one says them: to five minutes below three quarters of an hour, to half hours above. */
export function spokenTime(minutes: number): string {
  if (minutes < 42.5) {
    const five = Math.max(5, Math.round(minutes / 5) * 5);
    return `${countWord(five)} minutes`;
  }
  const halves = Math.max(2, Math.round(minutes / 30));
  const hours = Math.floor(halves / 2);
  if (halves % 2 === 0) return hours === 1 ? 'an hour' : `${countWord(hours)} hours`;
  return hours === 1 ? 'an hour and a half' : `${countWord(hours)} and a half hours`;
}

/** `1 h 20`, `12 min`: exact to the minute, for lists. */
export function clockTime(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole} min`;
  const rest = whole % 60;
  return rest === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${String(rest).padStart(2, '0')}`;
}

/** A chance as text. Never `0 %` nor `100 %` for what is neither. */
export function chanceText(chance: number): string {
  if (chance >= 1) return 'certain';
  if (chance <= 0) return 'none';
  if (chance > 0.99) return 'over 99 %';
  if (chance < 0.01) return 'under 1 %';
  return `${Math.round(chance * 100)} %`;
}
