import { describe, expect, it } from 'vitest';
import { go, nell, otis } from './household.ts';
import { axe, DESK, serving } from './support.ts';

const app = serving({ accounts: true });

describe('another role', () => {
  it('tells an open page within seconds that its person may write no more, and why; and that they may again', async () => {
    const owner = await nell(app, { size: DESK });
    const helper = await otis(app, owner.page, { role: 'helper' });
    const { page } = helper;
    await go(page, 'logbook');
    await page.getByRole('button', { name: 'Fill in a form' }).click();
    await page.getByRole('dialog').waitFor();
    await go(owner.page, 'go');
    await go(owner.page, 'people');
    await owner.page.getByLabel('Role of Otis').selectOption('reader');
    await page.getByText('An owner made you a reader of this rig').waitFor({ timeout: 6000 });
    await page.getByRole('dialog').waitFor({ state: 'hidden' });
    expect(await page.getByRole('button', { name: 'Fill in a form' }).count()).toBe(0);
    expect(await page.getByLabel('What was read or done').count()).toBe(0);
    expect(await axe(page)).toEqual([]);
    await owner.page.getByLabel('Role of Otis').selectOption('helper');
    await page.getByText('An owner made you a helper on this rig').waitFor({ timeout: 6000 });
    await page.getByLabel('What was read or done').waitFor();
    await owner.page.getByRole('button', { name: 'Take Otis off this rig' }).click();
    await page.getByText('You were taken off this rig.').waitFor({ timeout: 8000 });
    expect([...owner.errors, ...helper.errors]).toEqual([]);
    await owner.context.close();
    await helper.context.close();
  });
});
