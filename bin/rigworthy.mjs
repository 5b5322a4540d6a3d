#!/usr/bin/env node
import { existsSync } from 'node:fs';

const program = new URL('../dist/cli/rigworthy.js', import.meta.url);
if (existsSync(program)) {
  await import(program.href);
} else {
  console.error('Rigworthy is not built yet. Run `npm run build` in the clone, then try again.');
  process.exitCode = 2;
}
