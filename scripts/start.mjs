/** `npm start`: installs and builds what is needed, then serves the demo rig. `npm start -- --port 5000` moves it. */
import { build, install } from './house.mjs';

if (!install() || !build()) process.exit(1);
const given = process.argv.slice(2);
const rig = given.some((word) => word === '--data' || word.startsWith('--data=')) ? [] : ['--demo'];
process.argv = [process.argv[0], 'rigworthy', 'serve', ...rig, ...given];
await import('../bin/rigworthy.mjs');
