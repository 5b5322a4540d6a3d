import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { calculations, calculationsDocument } from './index.ts';

it('docs/calculations.md is in step with the register (write it with `npx tsx scripts/calculations-doc.ts`)', () => {
  const page = readFileSync(new URL('../../docs/calculations.md', import.meta.url), 'utf8');
  expect(page).toBe(calculationsDocument(calculations));
});
