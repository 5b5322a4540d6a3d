import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { Folder } from '../support/keeping.ts';

const ENTRIES = 100_000;
/** The file is larger than all the memory the program may have. */
const MEMORY_MIB = 72;

it(`${ENTRIES} entries come in with progress, in ${MEMORY_MIB} MiB of memory`, () => {
  const folder = new Folder();
  const args = [
    '--import',
    'tsx',
    `--max-old-space-size=${MEMORY_MIB}`,
    'test/slow/import-run.ts',
    folder.path,
    String(ENTRIES),
  ];
  const done = spawnSync(process.execPath, args, {
    cwd: fileURLToPath(new URL('../../', import.meta.url)),
    encoding: 'utf8',
  });
  expect(done.stderr).toBe('');
  const said = JSON.parse(done.stdout);
  expect(said).toMatchObject({ added: ENTRIES, known: 0, checked: true });
  expect(said.progress).toBeGreaterThanOrEqual((2 * ENTRIES) / 1000);
  expect(said.bytes).toBeGreaterThan(MEMORY_MIB * 1024 * 1024);
  folder.remove();
});
