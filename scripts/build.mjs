/** `npm run build`: the program and the page, when their sources changed. */
import { build, install } from './house.mjs';

process.exit(install() && build() ? 0 : 1);
