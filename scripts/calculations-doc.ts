/** Writes docs/calculations.md from the register: `npx tsx scripts/calculations-doc.ts`. */

import { writeFileSync } from 'node:fs';
import { calculations, calculationsDocument } from '../src/calculations/index.ts';

writeFileSync(new URL('../docs/calculations.md', import.meta.url), calculationsDocument(calculations));
