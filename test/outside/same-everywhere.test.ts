/** The rule of `build/same-everywhere.grit`, tried against planted violations: a rule that cannot fire proves nothing. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const pure = [...readFileSync(join(root, 'tsconfig.pure.json'), 'utf8').matchAll(/"(src\/[a-z]+)"/g)].map(
  ([, room]) => room!,
);
let house: string;

beforeAll(() => {
  house = mkdtempSync(join(tmpdir(), 'same-everywhere-'));
  mkdirSync(join(house, 'build'));
  cpSync(join(root, 'biome.json'), join(house, 'biome.json'));
  cpSync(join(root, 'build/same-everywhere.grit'), join(house, 'build/same-everywhere.grit'));
});
afterAll(() => rmSync(house, { recursive: true, force: true }));

/** The numbers of the lines on which the rule fires, by file. */
function fires(files: Record<string, readonly string[]>): Record<string, number[]> {
  rmSync(join(house, 'src'), { recursive: true, force: true });
  for (const [path, lines] of Object.entries(files)) {
    mkdirSync(join(house, path, '..'), { recursive: true });
    writeFileSync(join(house, path), lines.join('\n'));
  }
  const biome = join(root, 'node_modules/@biomejs/biome/bin/biome');
  const options = ['--reporter=github', '--max-diagnostics=none', '--vcs-enabled=false'];
  const { stdout } = spawnSync(process.execPath, [biome, 'lint', ...options, 'src'], { cwd: house, encoding: 'utf8' });
  const found: Record<string, number[]> = {};
  for (const [, path, line] of stdout.matchAll(/^::error title=plugin,file=(.+?),line=(\d+),/gm)) {
    const file = path!.slice(path!.lastIndexOf('src/'));
    found[file] = [...(found[file] ?? []), Number(line)];
  }
  return found;
}

const differing = [
  'export const a = (x: number) => Math.exp(x);',
  'export const b = [1, 2].map(Math.cos);',
  'export const c = (x: number) => 1 + Math.round(Math.hypot(3, x)) * 2;',
  'export const d = (x: number) => x ** 0.5;',
  'export const e = (x: number, n: number) => Math.max(0, x ** n);',
  'export const f = () => Math.random();',
  'export const { log } = Math;',
  "export const g = (x: number) => Math['sin'](x);",
  'export function h(x: number) {',
  '  let y = x;',
  '  y **= 1.5;',
  '  return y;',
  '}',
];
const same = [
  "import { exp, power } from '../elementary/index.ts';",
  'export const a = (x: number) => exp(x) + power(x, 0.5);',
  'export const b = (x: number, k: number) => Math.max(...[x ** 2, 2 ** -k, Math.sqrt(x) * Math.PI].map(Math.abs));',
  'export const c = (n: number) => 10n ** BigInt(Math.trunc(n));',
];

describe('what answers the same everywhere', () => {
  it('takes nothing whose last bit is left to the engine', () => {
    expect(fires({ 'src/outlook/index.ts': differing, 'src/outlook/more.ts': same })).toEqual({
      'src/outlook/index.ts': [1, 2, 3, 4, 5, 6, 7, 8, 11],
    });
  });

  it('is each pure room, but neither its tests nor the rooms of the host', () => {
    expect(pure.length).toBeGreaterThan(15);
    const planted = [...pure.map((room) => `${room}/index.ts`), 'src/web/index.ts', 'src/plan/index.test.ts'];
    const found = fires(Object.fromEntries(planted.map((path) => [path, differing.slice(0, 1)])));
    expect(Object.keys(found).sort()).toEqual(pure.map((room) => `${room}/index.ts`).sort());
  });
});
