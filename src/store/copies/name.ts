/** Names of copies: `rigworthy-2026-06-12T083000Z.sqlite`, so that they sort by age and say it. */
const NAME = /^rigworthy-(\d{4}-\d{2}-\d{2})T(\d{2})(\d{2})(\d{2})Z\.sqlite$/;

/** @param ms milliseconds since 1970 */
export function copyName(ms: number): string {
  const text = new Date(ms).toISOString();
  return `rigworthy-${text.slice(0, 19).replaceAll(/(?<=T.*):/g, '')}Z.sqlite`;
}

/** When a copy was made, milliseconds since 1970; undefined for any other file. */
export function madeAt(name: string): number | undefined {
  const match = NAME.exec(name);
  return match ? Date.parse(`${match[1]}T${match[2]}:${match[3]}:${match[4]}Z`) : undefined;
}
