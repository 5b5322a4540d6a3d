import { expect, it } from 'vitest';
import { GroupCommit } from './group-commit.ts';

it('who comes together is committed together, in order; who is alone does not wait for a crowd', async () => {
  const groups: number[][] = [];
  const group = new GroupCommit<number, number>((jobs) => {
    groups.push([...jobs]);
    return jobs.map((job) => job * 10);
  });
  expect(await Promise.all([1, 2, 3].map((job) => group.add(job)))).toEqual([10, 20, 30]);
  expect(await group.add(4)).toBe(40);
  expect(await group.add(5)).toBe(50);
  expect(groups).toEqual([[1, 2, 3], [4], [5]]);
});

it('a group that fails is tried one by one: only whose fault it is fails', async () => {
  const group = new GroupCommit<number, number>((jobs) => {
    if (jobs.includes(2)) throw new Error('not two');
    return jobs.map((job) => job);
  });
  const settled = await Promise.allSettled([1, 2, 3].map((job) => group.add(job)));
  expect(settled.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
});
