import type { Signal } from '@preact/signals';

/** The field in which one types words that a list is narrowed by. */
export function FindWords({ words, example }: { readonly words: Signal<string>; readonly example: string }) {
  return (
    <label>
      <span class="sr">Words to find</span>
      <input
        type="search"
        placeholder={`Find: ${example} …`}
        value={words.value}
        onInput={(event) => (words.value = event.currentTarget.value)}
      />
    </label>
  );
}
