/** The secret of the share link this window came by: in this window only, and gone with it. */
const KEY = 'share-link';

/** Takes the secret out of the address, where it would be copied and looked at along with the page. */
function taken(): string | null {
  const given = /^#share=(.+)$/.exec(location.hash)?.[1];
  if (given !== undefined) {
    sessionStorage.setItem(KEY, decodeURIComponent(given));
    history.replaceState(history.state, '', `${location.pathname}${location.search}#/go`);
  }
  return sessionStorage.getItem(KEY);
}

const link = taken();

export const shareLink = (): string | null => link;

/** Leaves nothing of it behind, and opens the app as if it had not come. */
export function leaveShared(): void {
  // Last of all: what else is remembered of this window is put down when the page is left.
  addEventListener('pagehide', () => sessionStorage.clear());
  location.replace(location.pathname);
}

// The same window goes to another link: a new page, and a new replica.
addEventListener('hashchange', () => {
  if (location.hash.startsWith('#share=')) location.reload();
});
