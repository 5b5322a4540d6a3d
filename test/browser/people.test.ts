import { describe, expect, it } from 'vitest';
import { axe, DESK, NELL, ready, serving } from './support.ts';

const app = serving({ accounts: true });
const own = serving();

describe('People and sharing', () => {
  it('signs in, invites, and the invited one is on the rig; the calendar feed is an address that can be taken back', async () => {
    const { page, context, errors } = await app.open();
    await page.getByRole('link', { name: 'Sign in' }).tap();
    await page.getByLabel('Name', { exact: true }).fill(NELL.name);
    await page.getByLabel('Password').fill('not this one');
    await page.getByLabel('What you call this device').fill('phone');
    await page.getByRole('button', { name: 'Sign in' }).tap();
    await page.getByText('The name or the password is wrong.').waitFor();
    await page.getByLabel('Password').fill(NELL.password);
    await page.getByRole('button', { name: 'Sign in' }).tap();
    await page.getByRole('img', { name: 'Hold' }).waitFor();

    await page.goto(`${app.url}/?now=2026-05-27#/people`);
    await ready(page);
    await page.getByLabel('Which calendar it is for').fill('kitchen');
    await page.getByRole('button', { name: 'Make a calendar address' }).tap();
    const feed = await page.getByLabel(/^Give this address/).inputValue();
    expect(await (await fetch(feed)).text()).toMatch(/^BEGIN:VCALENDAR\r\n/);
    await page.getByRole('button', { name: 'Take back kitchen' }).tap();
    await page.getByRole('button', { name: 'Take back kitchen' }).waitFor({ state: 'detached' });
    expect((await fetch(feed)).status).toBe(404);

    await page.getByLabel('Who it is for').fill('Otis');
    await page.getByRole('button', { name: 'Make an invitation' }).tap();
    const invitation = await page.getByLabel(/^Send them this address/).inputValue();
    expect(await axe(page)).toEqual([]);

    const other = await app.open({ size: DESK, theme: 'night' });
    await other.page.goto(invitation);
    await other.page.getByLabel('Your name, as others see it').fill('Otis');
    await other.page.getByLabel('Name to sign in with').fill('otis');
    await other.page.getByLabel('Password').fill('one two three four five');
    expect(await axe(other.page)).toEqual([]);
    await other.page.getByRole('button', { name: 'Join' }).click();
    await other.page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.reload();
    await page.getByLabel('Role of Otis').waitFor();
    expect(await page.getByLabel('Role of Otis').inputValue()).toBe('helper');
    expect([...errors, ...other.errors]).toEqual([]);
    await other.context.close();
    await context.close();
  });

  it('says at the owner’s own machine that nobody else gets in', async () => {
    const { page, context } = await own.open({ hash: '#/people', theme: 'sun' });
    await page.getByText('This is your own machine').waitFor();
    expect(await axe(page)).toEqual([]);
    await context.close();
  });
});
