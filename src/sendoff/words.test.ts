import { describe, expect, it } from 'vitest';
import { capital, chanceText, clockTime, counted, countWord, listed, lower, spokenTime } from './words.ts';

describe('numbers, lists and times as a person says them', () => {
  it.each([
    [0, 'no'],
    [1, 'one'],
    [12, 'twelve'],
    [13, '13'],
  ])('%d is %s', (n, word) => expect(countWord(n)).toBe(word));

  it('counts one thing and several', () => {
    expect(counted(1, 'thing')).toBe('one thing');
    expect(counted(3, 'thing')).toBe('three things');
    expect(counted(0, 'entry', 'entries')).toBe('no entries');
    expect(counted(1, 'thing stops', 'things stop')).toBe('one thing stops');
  });

  it('lists with an and, and with semicolons where an item has a comma', () => {
    expect(listed([])).toBe('');
    expect(listed(['a'])).toBe('a');
    expect(listed(['a', 'b'])).toBe('a and b');
    expect(listed(['a', 'b', 'c'])).toBe('a, b and c');
    expect(listed(['axle 1, left', 'axle 1, right'])).toBe('axle 1, left; axle 1, right');
  });

  it('writes the first letter large or small, and leaves abbreviations alone', () => {
    expect(capital('spare tire')).toBe('Spare tire');
    expect(capital('')).toBe('');
    expect(lower('Spare tire')).toBe('spare tire');
    expect(lower('LP alarm')).toBe('LP alarm');
    expect(lower('CO alarm')).toBe('CO alarm');
  });

  it.each([
    [1, 'five minutes'],
    [7, 'five minutes'],
    [8, 'ten minutes'],
    [42, '40 minutes'],
    [43, 'an hour'],
    [74, 'an hour'],
    [76, 'an hour and a half'],
    [104, 'an hour and a half'],
    [106, 'two hours'],
    [150, 'two and a half hours'],
    [180, 'three hours'],
  ])('%d minutes are said as %s', (minutes, said) => expect(spokenTime(minutes)).toBe(said));

  it.each([
    [0, '0 min'],
    [59.4, '59 min'],
    [59.6, '1 h'],
    [60, '1 h'],
    [61, '1 h 01'],
    [80, '1 h 20'],
    [120, '2 h'],
    [135, '2 h 15'],
  ])('%d minutes are listed as %s', (minutes, text) => expect(clockTime(minutes)).toBe(text));

  it.each([
    [0, 'none'],
    [0.001, 'under 1 %'],
    [0.0099, 'under 1 %'],
    [0.01, '1 %'],
    [0.16, '16 %'],
    [0.874, '87 %'],
    [0.99, '99 %'],
    [0.995, 'over 99 %'],
    [0.999, 'over 99 %'],
    [1, 'certain'],
  ])('a chance of %d is %s: doubt is never told as certainty', (chance, text) => expect(chanceText(chance)).toBe(text));
});
