/** Small pieces of Markdown that the pages of the reference are made of. */

export interface Page {
  /** `running-gear.md` */
  readonly name: string;
  readonly text: string;
}

export const slug = (title: string) => title.toLowerCase().replace(/[^a-z0-9]+/g, '-');
export const bullets = (items: readonly string[]) => items.map((item) => `- ${item}`);
export const numbered = (items: readonly string[]) => items.map((item, index) => `${index + 1}. ${item}`);
export const section = (title: string, lines: readonly string[]) =>
  lines.length === 0 ? [] : [`**${title}**`, '', ...lines, ''];

const cell = (text: string) => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

export function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  return [
    `| ${head.join(' | ')} |`,
    `|${head.map(() => '---').join('|')}|`,
    ...rows.map((row) => `| ${row.map(cell).join(' | ')} |`),
    '',
  ];
}

/** Joins lines, with one blank line at most between and a newline at the end. */
export function page(name: string, lines: readonly string[]): Page {
  const made = 'This page is made from `catalog/` by `npx tsx scripts/catalog-doc.ts`. Change the data, not the page.';
  const text = [...lines, '', '---', made].join('\n').replace(/\n{3,}/g, '\n\n');
  return { name, text: `${text}\n` };
}
