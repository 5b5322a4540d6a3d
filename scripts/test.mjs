/**
 * `npm test`: everything, from a fresh clone. Installs, gets a browser and a database server where it may, then the linter, the
 * types and every project of tests. The last line is the count.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { build, install, run, tool } from './house.mjs';

const BIOME = '@biomejs/biome/bin/biome';
const CRUISER = 'dependency-cruiser/bin/dependency-cruise.mjs';
const TSC = 'typescript/bin/tsc';
const VITEST = 'vitest/vitest.mjs';

const onPath = (names) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => names.some((name) => existsSync(join(folder, name))));
const postgres = () =>
  onPath(['postgres']) ||
  (existsSync('/usr/lib/postgresql') &&
    readdirSync('/usr/lib/postgresql').some((v) => existsSync(`/usr/lib/postgresql/${v}/bin/postgres`)));

/** What the machine must bring along, and which tests need it. */
const wanted = [
  {
    name: 'chromium',
    there: () => onPath(['chromium', 'chromium-browser', 'google-chrome']),
    needed: 'tests in the browser',
  },
  { name: 'postgresql', there: postgres, needed: 'tests of the store on PostgreSQL' },
  { name: 'khal', there: () => onPath(['khal']), needed: 'test of the calendar feed by another calendar program' },
  { name: 'age', there: () => onPath(['age']), needed: 'test of encrypted copies by another program' },
  { name: 'python3', there: () => onPath(['python3']), needed: 'test of archives by another ZIP program' },
];

/** Installs what is missing by the system's own packages, on Debian as root; says what to do elsewhere. */
function bring() {
  const missing = wanted.filter((one) => !one.there());
  if (missing.length === 0) return;
  const names = missing.map((one) => one.name);
  const debian = existsSync('/etc/debian_version') && onPath(['apt-get']);
  if (debian && process.getuid?.() === 0) {
    console.log(`Installing ${names.join(' and ')} (apt-get) …`);
    const quiet = { DEBIAN_FRONTEND: 'noninteractive' };
    run('apt-get', ['update', '-qq'], quiet) &&
      run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...names], quiet);
  }
  for (const one of missing.filter((other) => !other.there())) {
    console.log(
      `Missing: ${one.name}, needed by the ${one.needed}. ${debian ? `Run \`sudo apt-get install ${one.name}\`` : 'Install it by your system’s packages'}; until then they fail.`,
    );
  }
}

const counts = { passed: 0, failed: 0 };
function step(name, done) {
  const ok = done();
  counts[ok ? 'passed' : 'failed']++;
  console.log(`${ok ? 'passed' : 'FAILED'}: ${name}`);
}

function tests() {
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-tests-'));
  const file = join(folder, 'report.json');
  const clean = tool(VITEST, [
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
    ...process.argv.slice(2),
  ]);
  if (!existsSync(file)) {
    counts.failed++;
    console.log('FAILED: the tests did not run to their end');
    return;
  }
  const report = JSON.parse(readFileSync(file, 'utf8'));
  rmSync(folder, { recursive: true });
  counts.passed += report.numPassedTests;
  counts.failed += report.numFailedTests;
  const skipped = report.numPendingTests + (report.numTodoTests ?? 0);
  if (skipped > 0) console.log(`Not run: ${skipped}. A test that is not run proves nothing, so it counts as failed.`);
  counts.failed += skipped;
  // A file that cannot be loaded, or an error outside every test, fails the run without a failed test.
  if (!clean && report.numFailedTests + skipped === 0) {
    counts.failed++;
    console.log('FAILED: an error outside the tests; it stands above');
  }
}

if (!install()) {
  console.log('0 passed, 1 failed');
  process.exit(1);
}
bring();
step('format and lint (biome)', () => tool(BIOME, ['check', '.']));
step('walls (dependency-cruiser)', () => tool(CRUISER, ['src', '--config', '.dependency-cruiser.cjs']));
step('types', () => tool(TSC, ['-p', 'tsconfig.json']));
step('types of the pure rooms, with nothing of the host', () => tool(TSC, ['-p', 'tsconfig.pure.json']));
step('build', build);
tests();
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed === 0 ? 0 : 1);
