import { exifToShow } from './exif.ts';

/**
 * HEIC and AVIF (ISO/IEC 23008-12 in the boxes of ISO/IEC 14496-12). Where things are is told by offsets from the file's beginning, so
 * nothing moves: what stays at home is overwritten in its place.
 */
const PICTURES = new Set(['hvc1', 'hvt1', 'lhv1', 'av01', 'avc1', 'jpeg', 'j2k1', 'grid', 'iden', 'iovl', 'tmap']);
const NEEDED = new Set(['ftyp', 'meta', 'mdat', 'free', 'skip']);
/** An Exif item that says nothing: offset, then a TIFF with an empty directory. */
const EMPTY_EXIF = Buffer.from([0, 0, 0, 0, 0x49, 0x49, 0x2a, 0, 8, 0, 0, 0, 0, 0, 0, 0, 0, 0]);

interface Box {
  readonly type: string;
  /** Where its content begins and ends. */
  readonly start: number;
  readonly end: number;
  readonly head: number;
}

/** The same file without what stays at home; undefined, or a `RangeError`, where that cannot be found for sure. */
export function heifToShow(from: Buffer): Buffer | undefined {
  const to = Buffer.from(from);
  const top = boxesOf(to, 0, to.length);
  // A sequence or a film keeps a place of its own in boxes that are not looked into here.
  if (top.some(({ type }) => type === 'moov')) return undefined;
  const meta = top.filter(({ type }) => type === 'meta');
  if (meta.length !== 1) return undefined;
  const inner = boxesOf(to, meta[0]!.start + 4, meta[0]!.end);
  const one = (type: string): Box => {
    const box = inner.find((each) => each.type === type);
    if (!box) throw new RangeError(`no ${type}`);
    return box;
  };
  const types = itemTypes(to, one('iinf'));
  const idat = inner.find(({ type }) => type === 'idat');
  for (const [item, extents] of itemPlaces(to, one('iloc'), idat)) {
    const type = types.get(item);
    if (type === undefined) return undefined;
    if (!PICTURES.has(type)) cover(to, extents, type);
  }
  for (const box of top) {
    if (NEEDED.has(box.type)) continue;
    to.write('free', box.head + 4, 'latin1');
    to.fill(0, box.start, box.end);
  }
  return to;
}

function cover(to: Buffer, extents: readonly (readonly [number, number])[], type: string): void {
  const before = Buffer.concat(extents.map(([start, end]) => to.subarray(start, end)));
  const after = Buffer.alloc(before.length, type === 'mime' ? ' ' : 0);
  if (type === 'Exif' && before.length >= EMPTY_EXIF.length) {
    const exif = exifToShow(before.subarray(4 + before.readUInt32BE(0)));
    if (exif && 4 + exif.length <= after.length) exif.copy(after, 4);
    else EMPTY_EXIF.copy(after);
  }
  let at = 0;
  for (const [start, end] of extents) {
    after.copy(to, start, at, at + end - start);
    at += end - start;
  }
}

function boxesOf(from: Buffer, start: number, end: number): Box[] {
  const boxes: Box[] = [];
  for (let at = start; at < end; ) {
    const short = from.readUInt32BE(at);
    const size = short === 1 ? Number(from.readBigUInt64BE(at + 8)) : short === 0 ? end - at : short;
    const content = at + (short === 1 ? 16 : 8);
    if (size < content - at || at + size > end) throw new RangeError('a box that does not fit');
    boxes.push({ type: from.toString('latin1', at + 4, at + 8), head: at, start: content, end: at + size });
    at += size;
  }
  return boxes;
}

function itemTypes(from: Buffer, iinf: Box): Map<number, string> {
  const wide = from.readUInt8(iinf.start) > 0;
  const types = new Map<number, string>();
  for (const { start } of boxesOf(from, iinf.start + (wide ? 8 : 6), iinf.end)) {
    const version = from.readUInt8(start);
    if (version < 2) throw new RangeError('an item of an unknown kind');
    const id = version === 2 ? from.readUInt16BE(start + 4) : from.readUInt32BE(start + 4);
    const at = start + (version === 2 ? 8 : 10);
    types.set(id, from.toString('latin1', at, at + 4));
  }
  return types;
}

/** Where the bytes of each item are, from the file's beginning. */
function itemPlaces(from: Buffer, iloc: Box, idat: Box | undefined): Map<number, [number, number][]> {
  let at = iloc.start;
  const take = (bytes: number): number => {
    const value = bytes === 0 ? 0 : bytes === 8 ? Number(from.readBigUInt64BE(at)) : from.readUIntBE(at, bytes);
    at += bytes;
    return value;
  };
  const version = take(1);
  at += 3;
  const sizes = [take(1), take(1)].flatMap((both) => [both >> 4, both & 15]);
  const [offsetSize, lengthSize, baseSize, indexSize] = sizes as [number, number, number, number];
  const places = new Map<number, [number, number][]>();
  for (let left = take(version < 2 ? 2 : 4); left > 0; left--) {
    const id = take(version < 2 ? 2 : 4);
    const method = version > 0 ? take(2) & 15 : 0;
    if (take(2) !== 0 || method > 1) throw new RangeError('an item that is elsewhere');
    const base = take(baseSize) + (method === 1 ? (idat?.start ?? Number.NaN) : 0);
    const extents: [number, number][] = [];
    for (let more = take(2); more > 0; more--) {
      if (version > 0) take(indexSize);
      const start = base + take(offsetSize);
      const end = start + take(lengthSize);
      if (!(end <= from.length)) throw new RangeError('an item beyond the end');
      extents.push([start, end]);
    }
    places.set(id, extents);
  }
  return places;
}
