import type { Frame } from '../replica/frame.ts';
import { leaveShared } from '../replica/share-link.ts';
import { Title } from './title.tsx';

/** A share link that shows nothing: taken back, run out, or no network before anything was seen. */
export function Ended({ now }: { readonly now: Frame }) {
  const unseen = now.stage !== 'ended';
  return (
    <main>
      <Title>{unseen ? 'The server cannot be reached' : 'This rig is no longer shown to you'}</Title>
      <p class="lead">
        {unseen
          ? 'Nothing was seen of the rig yet, so there is nothing to show. Try again when there is a network.'
          : 'The link was taken back, or its time is over. What it showed is gone from this page, and nothing was put down on this device. Ask whoever gave it to you for a new one.'}
      </p>
      <p class="row wrap lead-in">
        {unseen && (
          <button type="button" onClick={() => location.reload()}>
            Try again
          </button>
        )}
        <button type="button" class="quiet" onClick={leaveShared}>
          Close
        </button>
      </p>
    </main>
  );
}
