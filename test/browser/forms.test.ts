import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { go } from './household.ts';
import { axe, ready, serving } from './support.ts';

const app = serving();
/** The demo as it is shipped: what other tests write moves the plan, and what is measured on its first day. */
const fresh = serving();

/** The form of this kind of entry, from the list of them all. */
async function form(page: Page, title: string) {
  await go(page, 'logbook');
  await page.getByRole('button', { name: 'Fill in a form' }).tap();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: title }).tap();
  await dialog.getByRole('heading', { name: title }).waitFor();
  return dialog;
}

describe('forms', () => {
  it('write any job on any part: what it asks comes when it is chosen', async () => {
    const { page, context, errors } = await app.open();
    const dialog = await form(page, 'Work done');
    const job = dialog.getByLabel('What was done');
    const labels = await job.locator('option').allTextContents();
    await job.selectOption({ label: labels.find((text) => /repack the bearings/.test(text))! });
    await dialog.getByRole('radio', { name: 'Good' }).check();
    await dialog.getByText('How it is done').waitFor();
    // What is seldom noted is folded away, and written all the same.
    await dialog.getByText('Odometer of the tow vehicle, minutes, cost, done by').tap();
    await dialog.getByLabel('Minutes').fill('95');
    expect(await axe(page)).toEqual([]);
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: .*repack/i).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('read an odometer, or whatever the chosen part has to be read, in its unit', async () => {
    const { page, context, errors } = await app.open();
    let dialog = await form(page, 'Something read off a gauge or a label');
    await dialog.getByRole('textbox', { name: 'Value' }).fill('64,310');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: .*odometer 64,310/i).waitFor();

    dialog = await form(page, 'Something read off a gauge or a label');
    const part = dialog.getByLabel('Read off');
    const spare = (await part.locator('option').allTextContents()).find((text) => /spare/i.test(text))!;
    await part.selectOption({ label: spare });
    const what = dialog.getByLabel('What was read');
    await what.selectOption(
      (await what
        .locator('option', { hasText: /pressure/i })
        .first()
        .getAttribute('value'))!,
    );
    await dialog.getByRole('textbox', { name: 'Value' }).fill('64');
    // What was filled in stays while other fields come.
    expect(await dialog.getByLabel('Unit of value').inputValue()).toBe('psi');
    expect(await axe(page)).toEqual([]);
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: .*64 psi/).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('keep the day that was chosen when something else does not fit', async () => {
    const { page, context } = await app.open();
    const dialog = await form(page, 'Something read off a gauge or a label');
    await dialog.getByLabel('Day').fill('2026-05-20');
    await dialog.getByRole('textbox', { name: 'Value' }).fill('many');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog.getByRole('alert').waitFor();
    expect(await dialog.getByLabel('Day').inputValue()).toBe('2026-05-20');
    await context.close();
  });

  it('of a yard day count only what is ticked, and ask readings only of that', async () => {
    const { page, context, errors } = await fresh.open({ hash: '#/season' });
    await ready(page);
    await page
      .getByRole('button', { name: /^Tick off/ })
      .first()
      .tap();
    const dialog = page.getByRole('dialog');
    const jobs = dialog.locator('fieldset:has(> .aside)');
    const measured = jobs.filter({ has: page.locator('.field') }).first();
    expect(await measured.locator('.field').first().isVisible()).toBe(false);
    await measured.getByRole('radio', { name: 'Failed' }).check();
    expect(await measured.locator('.field').first().isVisible()).toBe(true);
    expect(await axe(page)).toEqual([]);
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: /).waitFor();
    const { rigs } = (await (await fetch(`${fresh.url}/api/rigs`)).json()) as { rigs: { rig: string }[] };
    await page.locator('.outbox').waitFor({ state: 'detached' });
    const lines = await (await fetch(`${fresh.url}/api/rigs/${rigs[0]!.rig}/entries?limit=2000`)).text();
    const entries = JSON.parse(lines).entries as { entry: { kind: string; body: { done: { outcome: string }[] } } }[];
    const written = entries.filter(({ entry }) => entry.kind === 'work').at(-1)!.entry;
    expect(written.body.done.map(({ outcome }) => outcome)).toEqual(['failed']);
    expect(errors).toEqual([]);
    await context.close();
  });

  it('keep a job off the day it is planned for, say so at the job, and leave it to the plan again', async () => {
    const { page, context, errors } = await app.open({ hash: '#/season' });
    await ready(page);
    const day = page.locator('.yard-day').first();
    const dayText = (await day.locator('.day-head span').first().textContent())!.split(',')[0]!;
    const job = day.locator('.jobs > li').first();
    const title = (await job.locator('b').textContent())!;
    await job.locator('.grip').tap();
    await page.getByText(/or keep it off this one: /).waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Not on this day' }).tap();
    await page.getByText(/^Kept off /).waitFor();
    await ready(page);
    const moved = page.locator('.jobs > li', { hasText: `kept off ${dayText} by you` });
    await page.waitForFunction(
      ([was, what]) =>
        ![...document.querySelectorAll('.yard-day')].some(
          (one) =>
            one.querySelector('.day-head')?.textContent?.startsWith(was!) &&
            [...one.querySelectorAll('.jobs b')].some((name) => name.textContent === what),
        ),
      [dayText, title],
    );
    const folded = page.locator('.day-head[aria-expanded=false]');
    while ((await folded.count()) > 0) await folded.first().tap();
    await moved.first().locator('.grip').tap();
    await page.getByRole('button', { name: 'Leave it to the plan' }).tap();
    await page.getByText(/^Left to the plan: /).waitFor();
    await moved.first().waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await context.close();
  });
});
