import type { Signal } from '@preact/signals';

/**
 * Photos from the camera of a phone, or from its files; kept until the entry they belong to is written. Asked for by kind: telephones that
 * keep another (HEIC) then hand in a JPEG.
 */
export function CameraField({ label, photos }: { readonly label: string; readonly photos: Signal<readonly File[]> }) {
  const add = (input: HTMLInputElement): void => {
    photos.value = [...photos.value, ...(input.files ?? [])];
    input.value = '';
  };
  return (
    <div class="camera">
      <div class="row wrap">
        <label class="button quiet">
          <input
            class="sr"
            type="file"
            accept="image/jpeg,image/png,image/webp"
            capture="environment"
            onChange={(event) => add(event.currentTarget)}
          />
          {label}
        </label>
        <label class="button quiet">
          <input
            class="sr"
            type="file"
            accept="image/jpeg,image/png,image/webp"
            multiple
            onChange={(event) => add(event.currentTarget)}
          />
          From this device
        </label>
      </div>
      {photos.value.length > 0 && (
        <p class="row" role="status">
          <span class="grow">
            {photos.value.length === 1 ? '1 photo' : `${photos.value.length} photos`}:{' '}
            {photos.value.map(({ name }) => name).join(', ')}
          </span>
          <button type="button" class="quiet" onClick={() => (photos.value = [])}>
            Without
          </button>
        </p>
      )}
    </div>
  );
}
