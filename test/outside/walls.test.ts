/** Each rule of the walls, tried against one planted violation: a rule that cannot fire proves nothing. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { cruise, type ICruiseResult, type IFlattenedRuleSet } from 'dependency-cruiser';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const { forbidden, options } = createRequire(import.meta.url)('../../.dependency-cruiser.cjs');
let house: string;

beforeAll(() => {
  house = mkdtempSync(join(tmpdir(), 'walls-'));
  symlinkSync(join(root, 'node_modules'), join(house, 'node_modules'));
});
afterAll(() => rmSync(house, { recursive: true, force: true }));

/** Names of the rules broken by a little house of these files. */
async function broken(name: string, files: Record<string, string>): Promise<string[]> {
  const base = join(house, name);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(base, path)), { recursive: true });
    writeFileSync(join(base, path), text);
  }
  const cruised = await cruise(['src'], {
    ...options,
    baseDir: base,
    validate: true,
    ruleSet: { forbidden } as IFlattenedRuleSet,
  });
  const { violations } = (cruised.output as ICruiseResult).summary;
  return [...new Set(violations.map((violation) => violation.rule.name))].sort();
}

const door = 'export const one = 1;\n';

describe('the walls', () => {
  it('let a room use the doors of the rooms above it', async () => {
    expect(
      await broken('sound', {
        'src/problem/index.ts': door,
        'src/logbook/index.ts':
          "import { one } from '../problem/index.ts';\nimport { z } from 'zod';\nexport const two = [one, z];\n",
        'src/cli/index.ts':
          "import { readFileSync } from 'node:fs';\nimport { two } from '../logbook/index.ts';\nexport const three = [two, readFileSync];\n",
      }),
    ).toEqual([]);
  });

  it('stop a room that looks down', async () => {
    expect(
      await broken('down', {
        'src/plan/index.ts': door,
        'src/outlook/index.ts': "import { one } from '../plan/index.ts';\nexport const two = one;\n",
      }),
    ).toEqual(['direction-outlook']);
  });

  it('see an import of types alone', async () => {
    expect(
      await broken('types', {
        'src/store/index.ts': 'export interface One { a: 1 }\n',
        'src/desk/index.ts': "import type { One } from '../store/index.ts';\nexport type Two = One;\n",
      }),
    ).toEqual(['direction-desk']);
  });

  it('stop whoever enters past the door', async () => {
    expect(
      await broken('door', {
        'src/dates/index.ts': door,
        'src/dates/inner.ts': door,
        'src/cli/index.ts': "import { one } from '../dates/inner.ts';\nexport const two = one;\n",
      }),
    ).toEqual(['door']);
  });

  it('stop a folder that is no room', async () => {
    expect(
      await broken('shed', {
        'src/utils/index.ts': "import { one } from './one.ts';\nexport const two = one;\n",
        'src/utils/one.ts': door,
      }),
    ).toEqual(['room-unknown']);
  });

  it('stop a pure room that reaches the host, directly or through another', async () => {
    expect(
      await broken('host', {
        'src/dates/index.ts': "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;\n",
        'src/catalog/index.ts': "import { read } from '../dates/index.ts';\nexport const again = read;\n",
      }),
    ).toEqual(['pure-reaches-host']);
  });

  it('stop a pure room that takes a package which is not on the list', async () => {
    expect(
      await broken('package', { 'src/gas/index.ts': "import { h } from 'preact';\nexport const one = h;\n" }),
    ).toEqual(['pure-package']);
  });

  it('stop a round', async () => {
    expect(
      await broken('round', {
        'src/codes/index.ts': "export { one } from './one.ts';\n",
        'src/codes/one.ts': "import { two } from './two.ts';\nexport const one = () => two;\n",
        'src/codes/two.ts': "import { one } from './one.ts';\nexport const two = () => one;\n",
      }),
    ).toEqual(['cycle']);
  });

  it('stop what cannot be resolved', async () => {
    expect(await broken('lost', { 'src/water/index.ts': "export { one } from './gone.ts';\n" })).toEqual([
      'not-resolved',
    ]);
  });

  it('have a test here for every rule', () => {
    const families = new Set(
      (forbidden as { name: string }[]).map((rule) => rule.name.replace(/^direction-.*/, 'direction')),
    );
    expect([...families].sort()).toEqual([
      'cycle',
      'direction',
      'door',
      'not-resolved',
      'pure-package',
      'pure-reaches-host',
      'room-unknown',
    ]);
  });
});
