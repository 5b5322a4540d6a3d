import type { SettingsPart } from './settings-figure.tsx';

/** What of the owner's own is written down already, each to be taken back. */
export function OwnList(props: {
  readonly lines: readonly { readonly key: string; readonly text: string }[];
  readonly set: SettingsPart['set'];
  /** What is done to one: `Take back`. */
  readonly verb?: string;
}) {
  const { lines, set, verb = 'Take back' } = props;
  return (
    <ul class="plain own-list">
      {lines.map(({ key, text }) => (
        <li key={key} class="row call-row">
          <span class="grow">{text}</span>
          <button type="button" class="quiet" aria-label={`${verb} ${text}`} onClick={() => set(key, null)}>
            {verb}
          </button>
        </li>
      ))}
    </ul>
  );
}
