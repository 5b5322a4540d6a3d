import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { Qr } from './qr.tsx';

/** A link just made: to be copied, or scanned from the screen. It is told only now. */
export function LinkMade(props: {
  readonly address: string;
  readonly text: string;
  /** What the code does, for who cannot see it; no code where nothing is said. */
  readonly scan?: string;
}) {
  const { address, text, scan } = props;
  const field = useRef<HTMLInputElement>(null);
  const copied = useSignal<string>('');
  if (address === '') return null;
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(address);
      copied.value = 'Copied.';
    } catch {
      field.current!.select();
      copied.value = 'The browser does not let us copy. The address is marked: copy it by hand.';
    }
  };
  return (
    <div class="link-made">
      <label class="field">
        <span>{text}</span>
        <input ref={field} readOnly value={address} onFocus={(event) => event.currentTarget.select()} />
      </label>
      <button type="button" class="quiet" onClick={copy}>
        Copy the address
      </button>
      <p role="status" class="soft">
        {copied.value}
      </p>
      {scan !== undefined && (
        <figure class="qr-figure">
          <Qr text={address} label={`Square code of the address above. ${scan}`} />
          <figcaption class="soft">{scan}</figcaption>
        </figure>
      )}
    </div>
  );
}
