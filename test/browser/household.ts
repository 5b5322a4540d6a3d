/** People and devices round one served rig, for the tests of sharing. */
import type { Page } from 'playwright-core';
import { NELL, type Opened, type PageOptions, ready, TODAY } from './support.ts';

/** Whatever opens pages on a served rig. */
interface Opens {
  open(options?: PageOptions): Promise<Opened>;
}

export const OTIS = { name: 'otis', shown: 'Otis', password: 'one two three four five' };

/** Goes to a page of the app that is open already. */
export async function go(page: Page, to: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#/${to}`);
  await ready(page);
}

/** Signs a page in that shows the form for it. */
export async function signIn(page: Page, person = NELL, device = 'phone'): Promise<void> {
  await page.getByLabel('Name', { exact: true }).fill(person.name);
  await page.getByLabel('Password').fill(person.password);
  await page.getByLabel('What you call this device').fill(device);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

/** A device of Nell's with the rig open on it. */
export async function nell(app: Opens, options: PageOptions & { readonly device?: string } = {}): Promise<Opened> {
  const opened = await app.open({ ...options, hash: '#/people' });
  await signIn(opened.page, NELL, options.device);
  await opened.page.getByRole('img', { name: 'Hold' }).waitFor();
  return opened;
}

/** Otis with an account of his own and a role on the rig, on a device that is signed in. */
export async function otis(
  app: Opens & { readonly url: string },
  owner: Page,
  options: PageOptions & { readonly role?: 'reader' | 'helper' } = {},
): Promise<Opened> {
  await go(owner, 'people');
  await owner.getByLabel('Who it is for').fill(OTIS.shown);
  await owner.locator('select[name=role]').selectOption(options.role ?? 'helper');
  await owner.getByRole('button', { name: 'Make an invitation' }).click();
  const invitation = await owner.getByLabel(/^Send them this address/).inputValue();
  const opened = await app.open(options);
  const { page } = opened;
  await page.goto(`${app.url}/?now=${TODAY}${new URL(invitation).hash}`);
  await page.getByLabel('Your name, as others see it').fill(OTIS.shown);
  await page.getByLabel('Name to sign in with').fill(OTIS.name);
  await page.getByLabel('Password').fill(OTIS.password);
  await page.getByRole('button', { name: 'Join' }).click();
  await page.getByRole('img', { name: 'Hold' }).waitFor();
  return opened;
}

/** The address that the owner gives away, made on their page. */
export async function makeLink(owner: Page, label: string): Promise<string> {
  // A page gone to anew shows no address of before.
  await go(owner, 'go');
  await go(owner, 'people');
  await owner.getByLabel('Whom you show it to').fill(label);
  await owner.getByRole('button', { name: 'Make a link to look' }).click();
  return owner.getByLabel(/^Give this address to them/).inputValue();
}

/** Asks the server for news now, as the page does by itself every few seconds. */
export async function news(page: Page): Promise<void> {
  await page.evaluate(() => dispatchEvent(new Event('online')));
}

/** What a browser keeps of us on its disk. */
export const databases = (page: Page): Promise<string[]> =>
  page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name ?? ''));
