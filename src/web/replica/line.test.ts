import { expect, it } from 'vitest';
import { secondsToWait } from './line.ts';

// RFC 9110, section 10.2.3: `Retry-After` is a number of seconds or an HTTP date; its two examples stand first.
const NOW = Date.parse('Fri, 31 Dec 1999 23:58:59 GMT');

it.each<[string | null, number | null]>([
  ['120', 120],
  ['Fri, 31 Dec 1999 23:59:59 GMT', 60],
  [' 7 ', 7],
  ['0', 1],
  ['Fri, 31 Dec 1999 23:00:00 GMT', 1],
  ['864000', 3600],
  ['soon', null],
  ['', null],
  [null, null],
])('reads how long the server asks to be left alone: %s', (header, seconds) => {
  expect(secondsToWait(header, NOW)).toBe(seconds);
});
