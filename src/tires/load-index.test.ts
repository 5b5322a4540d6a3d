import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { loadOfIndex } from './load-index.ts';

describe('loadOfIndex', () => {
  it('knows 60 to 130', () => {
    expect(unwrap(loadOfIndex(117))).toEqual(q('1285 kg'));
    expect(codeOf(loadOfIndex(59))).toBe('tire.load-index');
    expect(codeOf(loadOfIndex(117.5))).toBe('tire.load-index');
  });
});
