/** What `npm start` and `npm test` share: install when needed, build when needed. Plain Node, no dependency. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../', import.meta.url));

/** Runs a command in the clone, its output shown; true when it ended well. */
export function run(command, args, env = {}) {
  const ended = spawnSync(command, args, { cwd: root, stdio: 'inherit', env: { ...process.env, ...env } });
  if (ended.error) console.error(`${command}: ${ended.error.message}`);
  return ended.status === 0;
}

/** Runs a tool of node_modules. */
export function tool(name, args, env) {
  return run(process.execPath, [join(root, 'node_modules', name), ...args], env);
}

export const VITE = 'vite/bin/vite.js';

/** Installs what the lock file says when nothing is installed, or something older than the lock. */
export function install() {
  const installed = join(root, 'node_modules/.package-lock.json');
  const lock = join(root, 'package-lock.json');
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return true;
  console.log('Installing (npm ci) …');
  const done = run(process.platform === 'win32' ? 'npm.cmd' : 'npm', [
    'ci',
    '--no-audit',
    '--no-fund',
    '--loglevel=error',
  ]);
  if (!done) console.error('The installation failed; what npm said stands above. Nothing was built.');
  return done;
}

const SOURCES = [
  'src',
  'catalog',
  'build',
  'demo',
  'package-lock.json',
  'vite.node.config.ts',
  'vite.web.config.ts',
  'vite.verify.config.ts',
  'tsconfig.base.json',
  'tsconfig.json',
];

/** A digest of everything the build is made from. */
export function sourceDigest() {
  const hash = createHash('sha256');
  const add = (path) => {
    const full = join(root, path);
    if (!existsSync(full)) return;
    if (statSync(full).isDirectory()) {
      for (const name of readdirSync(full).sort()) add(`${path}/${name}`);
      return;
    }
    if (/\.test\.tsx?$/.test(path)) return;
    hash.update(`${path}\0`).update(readFileSync(full)).update('\0');
  };
  for (const path of SOURCES) add(path);
  return hash.digest('hex');
}

/** Builds the command line, and the page where there is one, unless that was done from these very sources. */
export function build() {
  const stamp = join(root, 'dist/.sources');
  const digest = sourceDigest();
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === digest) return true;
  console.log('Building …');
  const page = existsSync(join(root, 'src/web/index.html'));
  const done =
    tool(VITE, ['build', '--config', 'vite.node.config.ts']) &&
    (!page ||
      ['vite.web.config.ts', 'vite.verify.config.ts'].every((config) => tool(VITE, ['build', '--config', config])));
  if (!done) {
    console.error('The build failed; what went wrong stands above.');
    return false;
  }
  mkdirSync(join(root, 'dist'), { recursive: true });
  writeFileSync(stamp, digest);
  return true;
}
