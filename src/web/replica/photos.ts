import type { Keeper } from './keeper.ts';

/** Photos into the replica by the hash of their bytes; they are sent with the next exchange. */
export async function keepPhotos(keeper: Keeper, photos: readonly Blob[]): Promise<string[]> {
  const hashes: string[] = [];
  for (const photo of photos) {
    const bytes = await photo.arrayBuffer();
    const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    const hash = [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    await keeper.books.putBlob({ hash, rig: keeper.rig, type: photo.type, bytes, sent: false });
    hashes.push(hash);
  }
  return hashes;
}

/** One photo: from this device, or else from the server, and then kept here. Null where neither has it. */
export async function photo(keeper: Keeper, hash: string): Promise<Blob | null> {
  const kept = await keeper.books.blob(hash);
  if (kept) return new Blob([kept.bytes], { type: kept.type });
  try {
    const answer = await keeper.line.fetch(`/api/rigs/${keeper.rig}/blobs/${hash}`);
    const bytes = await answer.arrayBuffer();
    const type = answer.headers.get('content-type') ?? 'application/octet-stream';
    await keeper.books.putBlob({ hash, rig: keeper.rig, type, bytes, sent: true });
    return new Blob([bytes], { type });
  } catch {
    return null;
  }
}
