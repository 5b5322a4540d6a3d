/**
 * `npm run audit`: asks the package registry what is known against the packages that are shipped, then against those for building and
 * testing. Ends with 0 when nothing is known, 1 when something is, 2 when the registry does not answer: then nothing is known either way.
 */
import { spawnSync } from 'node:child_process';
import { root } from './house.mjs';

const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';

function ask(what, args) {
  const { stdout = '' } = spawnSync(npm, ['audit', '--json', ...args], { cwd: root, encoding: 'utf8' });
  let report;
  try {
    report = JSON.parse(stdout);
  } catch {
    report = {};
  }
  const found = report.metadata?.vulnerabilities;
  if (!found) {
    console.log(`${what}: NOT KNOWN. The registry did not answer${report.message ? ` (${report.message})` : ''}.`);
    return 2;
  }
  if (found.total === 0) {
    console.log(`${what}: nothing known against any of ${report.metadata.dependencies?.total ?? 'the'} packages.`);
    return 0;
  }
  for (const { name, severity, range } of Object.values(report.vulnerabilities))
    console.log(`  ${severity}: ${name} ${range}`);
  console.log(`${what}: ${found.total} found.`);
  return 1;
}

const answers = [ask('Shipped packages', ['--omit=dev']), ask('All packages', [])];
process.exit(answers.includes(1) ? 1 : answers.includes(2) ? 2 : 0);
