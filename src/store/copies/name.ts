/** Names of copies: `rigworthy-2026-06-12T083000Z.sqlite`, so that they sort by age and say it; encrypted ones end in `.age`. */
const NAME = /^rigworthy-(\d{4}-\d{2}-\d{2})T(\d{2})(\d{2})(\d{2})Z\.sqlite(?:\.age)?$/;
export const ENCRYPTED = '.age';

/** @param ms milliseconds since 1970 */
export function copyName(ms: number, encrypted = false): string {
  const text = new Date(ms).toISOString();
  return `rigworthy-${text.slice(0, 19).replaceAll(/(?<=T.*):/g, '')}Z.sqlite${encrypted ? ENCRYPTED : ''}`;
}

/** When a copy was made by the clock of then, milliseconds since 1970; undefined for any other file. */
export function madeAt(name: string): number | undefined {
  const match = NAME.exec(name);
  return match ? Date.parse(`${match[1]}T${match[2]}:${match[3]}:${match[4]}Z`) : undefined;
}

export const isEncrypted = (file: string): boolean => file.endsWith(ENCRYPTED);
