import { readdirSync, readFileSync } from 'node:fs';
import files from 'virtual:catalog-files';
import { describe, expect, it } from 'vitest';
import { problemText } from '../problem/index.ts';
import { loadCatalog } from './index.ts';

const folder = new URL('../../test/data/catalog-broken/', import.meta.url);
const broken = readdirSync(folder).sort();

interface Expected {
  readonly code: string;
  /** 0 where the YAML itself is torn and any line may be named. */
  readonly line: number;
  readonly text: string;
}

/** The `# expected: code | line | part of what was expected` lines at the head of a broken file. */
function expectedOf(text: string): Expected[] {
  return [...text.matchAll(/^# expected: (\S+) \| (\S+) \| (.+)$/gm)].map(([, code, line, part]) => ({
    code: code!,
    line: line === '*' ? 0 : Number(line),
    text: part!,
  }));
}

describe('loadCatalog', () => {
  it('takes the catalog as it stands', () => {
    const result = loadCatalog(files);
    expect(result.ok ? [] : result.problems.map(problemText)).toEqual([]);
  });

  it('finds at least forty broken files to refuse', () => {
    expect(broken.length).toBeGreaterThan(40);
  });

  it.each(broken)('refuses %s with file, line and what was expected, and nothing else', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    const wanted = expectedOf(text);
    expect(wanted.length).toBeGreaterThan(0);
    const result = loadCatalog([...files, { name: `broken/${name}`, text }]);
    const found = result.ok ? [] : result.problems;
    const say = found.map((problem) => `${problem.code}: ${problemText(problem)}`).join('\n');
    expect(found.map(({ code }) => code).sort(), say).toEqual(wanted.map(({ code }) => code).sort());
    for (const { code, line, text: part } of wanted) {
      const problem = found.find((one) => one.code === code && (one.expected ?? '').includes(part));
      expect(problem, `${code} … ${part}\n${say}`).toBeDefined();
      if (line > 0) expect(problem!.where, say).toBe(`broken/${name}:${line}`);
      else expect(problem!.where, say).toMatch(/^broken\/.*:\d+$/);
      expect(problem!.what.length).toBeGreaterThan(10);
    }
  });

  it('tells every problem of a load, not only the first', () => {
    const all = broken
      .filter((name) => !/^(follow-up|covers-circular|order)/.test(name))
      .map((name) => ({
        name,
        text: readFileSync(new URL(name, folder), 'utf8').replaceAll('broken-upkeep', `x-${name.slice(0, -5)}`),
      }));
    const result = loadCatalog([...files, ...all]);
    const named = new Set(result.ok ? [] : result.problems.map(({ where }) => where?.split(':')[0]));
    for (const { name } of all) expect([...named], name).toContain(name);
  });

  it('is empty without files', () => {
    const result = loadCatalog([]);
    expect(result.ok && result.value.upkeeps.size).toBe(0);
  });
});
