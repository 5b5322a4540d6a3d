import { describe, expect, it } from 'vitest';
import { go, nell, news, signIn } from './household.ts';
import { axe, DESK, ready, serving, TODAY } from './support.ts';

const app = serving({ accounts: true });
const empty = serving({ accounts: true, demo: false });

describe('A rig begun without an account', () => {
  it('is put on the server by the first who claims it, and found by their other devices', async () => {
    const { page, context, errors } = await empty.open();
    await page.getByLabel('What is the trailer called?').fill('Wren');
    await page.getByRole('button', { name: 'Begin the walk-round' }).tap();
    await page.getByRole('heading', { name: 'First the trailer' }).waitFor();
    await page.getByRole('button', { name: 'Write down the trailer' }).tap();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Name', { exact: true }).fill('Wren');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    // Why it waits, and the way on from there.
    await page.getByRole('link', { name: '1 to send: signed out' }).tap();
    await page.getByText('You are not signed in here.').waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByRole('main').getByRole('link', { name: 'Sign in' }).tap();
    await signIn(page);
    await page.locator('.names', { hasText: 'Wren' }).waitFor();
    await page.getByRole('link', { name: '1 to send: not at the server' }).tap();
    await page.getByRole('link', { name: 'People and sharing' }).tap();
    await page.getByRole('button', { name: 'Put wren on the server' }).tap();
    await page.getByLabel('Role of Nell').waitFor();
    await page.locator('.outbox').waitFor({ state: 'detached' });

    const laptop = await empty.open({ size: DESK, hash: '#/people' });
    await signIn(laptop.page);
    await laptop.page.locator('.names', { hasText: 'Wren' }).waitFor();
    await go(laptop.page, 'logbook');
    await laptop.page.getByText('Trailer enrolled: Wren').waitFor();
    expect([...errors, ...laptop.errors]).toEqual([]);
    await laptop.context.close();
    await context.close();
  });
});

describe('One more device', () => {
  it('is signed in by a link, which says until when it works and works once', async () => {
    const laptop = await nell(app, { size: DESK, device: 'laptop' });
    await go(laptop.page, 'people');
    await laptop.page.getByRole('button', { name: 'Sign another device in' }).click();
    const field = laptop.page.getByLabel(/^Open this on the other device\. It works once, until \d\d:\d\d\./);
    const link = await field.inputValue();
    // For who cannot see the code: what it is, and the same address as text beside it.
    await laptop.page.getByRole('img', { name: /^Square code of the address above/ }).waitFor();
    await laptop.context.grantPermissions(['clipboard-read', 'clipboard-write']);
    await laptop.page.getByRole('button', { name: 'Copy the address' }).click();
    await laptop.page.getByText('Copied.').waitFor();
    expect(await laptop.page.evaluate(() => navigator.clipboard.readText())).toBe(link);

    const phone = await app.open({ hash: new URL(link).hash });
    await phone.page.getByRole('heading', { name: 'Sign this device in' }).waitFor();
    expect(await axe(phone.page)).toEqual([]);
    await phone.page.getByLabel('What you call this device').fill('phone in the cab');
    await phone.page.getByRole('button', { name: 'Sign in' }).tap();
    await phone.page.getByRole('img', { name: 'Hold' }).waitFor();
    // What is written there is Nell's.
    await phone.page.getByLabel('What was read or done').fill('spare 65 psi, 18 C');
    await phone.page.getByRole('button', { name: 'Write', exact: true }).tap();
    await phone.page.getByRole('button', { name: 'Write it down' }).tap();
    await phone.page.getByText(/^Written: /).waitFor();
    await news(laptop.page);
    await go(laptop.page, 'logbook');
    const newest = laptop.page.locator('.line').first();
    await newest.filter({ hasText: 'pressure cold 65 psi' }).filter({ hasText: 'Nell' }).waitFor();

    const third = await app.open({ hash: new URL(link).hash });
    await third.page.getByLabel('What you call this device').fill('a stranger’s');
    await third.page.getByRole('button', { name: 'Sign in' }).tap();
    await third.page.getByText('The link is used up or has ended.').waitFor();
    await third.context.close();

    await laptop.page.goto(`${app.url}/?now=${TODAY}#/people`);
    await ready(laptop.page);
    await laptop.page.getByRole('button', { name: 'Sign phone in the cab out' }).click();
    await laptop.page.getByRole('button', { name: 'Sign phone in the cab out' }).waitFor({ state: 'detached' });
    await phone.context.close();
    await laptop.context.close();
  });

  it('signed out everywhere goes on without the server, and says so where something waits', async () => {
    const laptop = await nell(app, { size: DESK, device: 'laptop' });
    const phone = await nell(app, { device: 'phone' });
    await go(laptop.page, 'people');
    await laptop.page.getByRole('button', { name: 'Sign out everywhere' }).click();
    await laptop.page.getByRole('button', { name: 'Sign in' }).waitFor();

    const { page } = phone;
    await page.getByLabel('What was read or done').fill('spare 64 psi, 18 C');
    await page.getByRole('button', { name: 'Write', exact: true }).tap();
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByRole('link', { name: '1 to send: signed out' }).tap();
    await page.getByText('What is written on this device is kept, and goes when you sign in.').waitFor();
    await page.getByRole('main').getByRole('link', { name: 'Sign in' }).tap();
    await signIn(page);
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.locator('.outbox').waitFor({ state: 'detached' });
    await phone.context.close();
    await laptop.context.close();
  });
});
