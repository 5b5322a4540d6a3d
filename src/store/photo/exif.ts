/**
 * What of a photo's Exif (CIPA DC-008, in the form of TIFF 6.0) goes with it out of the house: how to turn it, when it was taken, with
 * what and how exposed. By a list of what is kept, not of what is dropped: places hide in the GPS directory, in makers' notes, in
 * comments and in descriptions.
 */
const KEPT_IMAGE = new Set([0x010f, 0x0110, 0x0112, 0x011a, 0x011b, 0x0128, 0x0132, 0x0213]);
const KEPT_EXIF = new Set([
  0x829a, 0x829d, 0x8822, 0x8827, 0x9000, 0x9003, 0x9004, 0x9201, 0x9202, 0x9203, 0x9204, 0x9205, 0x9206, 0x9207,
  0x9208, 0x9209, 0x920a, 0x9290, 0x9291, 0x9292, 0xa001, 0xa002, 0xa003, 0xa402, 0xa403, 0xa405, 0xa406,
]);
const EXIF_POINTER = 0x8769;
/** Bytes of one value, by type number: BYTE, ASCII, SHORT, LONG, RATIONAL, SBYTE, UNDEFINED, SSHORT, SLONG, SRATIONAL, FLOAT, DOUBLE. */
const SIZES: readonly number[] = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8];
/** No value that is kept is longer; what claims to be is something else. */
const VALUE_MAX = 200;

interface Field {
  readonly tag: number;
  readonly type: number;
  readonly count: number;
  readonly value: Buffer;
}

/** The order of bytes: Intel's or Motorola's. */
class Order {
  constructor(readonly little: boolean) {}
  u16(from: Buffer, at: number): number {
    return this.little ? from.readUInt16LE(at) : from.readUInt16BE(at);
  }
  u32(from: Buffer, at: number): number {
    return this.little ? from.readUInt32LE(at) : from.readUInt32BE(at);
  }
  put16(to: Buffer, value: number, at: number): void {
    if (this.little) to.writeUInt16LE(value, at);
    else to.writeUInt16BE(value, at);
  }
  put32(to: Buffer, value: number, at: number): void {
    if (this.little) to.writeUInt32LE(value, at);
    else to.writeUInt32BE(value, at);
  }
}

/** A new Exif block with what is kept of `tiff`; undefined where that cannot be read: then nothing of it goes. */
export function exifToShow(tiff: Buffer): Buffer | undefined {
  try {
    const mark = tiff.toString('latin1', 0, 4);
    if (mark !== 'II*\0' && mark !== 'MM\0*') return undefined;
    const order = new Order(mark.startsWith('II'));
    const first = fieldsAt(tiff, order.u32(tiff, 4), order);
    const pointer = first.find(({ tag }) => tag === EXIF_POINTER);
    const inner = pointer ? fieldsAt(tiff, order.u32(pointer.value, 0), order) : [];
    return written(
      order,
      first.filter(({ tag }) => KEPT_IMAGE.has(tag)),
      inner.filter(({ tag }) => KEPT_EXIF.has(tag)),
    );
  } catch (error) {
    // A read beyond the end: it is no Exif as it should be.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function fieldsAt(tiff: Buffer, at: number, order: Order): Field[] {
  const fields: Field[] = [];
  const count = order.u16(tiff, at);
  for (let n = 0; n < count; n++) {
    const entry = at + 2 + 12 * n;
    const [tag, type, values] = [order.u16(tiff, entry), order.u16(tiff, entry + 2), order.u32(tiff, entry + 4)];
    const bytes = (SIZES[type] ?? 0) * values;
    if (bytes === 0 || bytes > VALUE_MAX) continue;
    const start = bytes > 4 ? order.u32(tiff, entry + 8) : entry + 8;
    if (start + bytes > tiff.length) continue;
    fields.push({ tag, type, count: values, value: tiff.subarray(start, start + bytes) });
  }
  return fields;
}

/** Header, directory of the picture, directory of the exposure, each followed by its longer values. */
function written(order: Order, image: readonly Field[], exif: readonly Field[]): Buffer {
  const pointer: Field = { tag: EXIF_POINTER, type: 4, count: 1, value: Buffer.alloc(4) };
  const first = [...image, ...(exif.length ? [pointer] : [])];
  const second = 8 + sizeOf(first);
  order.put32(pointer.value, second, 0);
  const to = Buffer.alloc(second + (exif.length ? sizeOf(exif) : 0));
  to.write(order.little ? 'II' : 'MM', 'latin1');
  order.put16(to, 42, 2);
  order.put32(to, 8, 4);
  writeFields(to, 8, first, order);
  if (exif.length) writeFields(to, second, exif, order);
  return to;
}

const even = (bytes: number): number => bytes + (bytes % 2);
const sizeOf = (fields: readonly Field[]): number =>
  fields.reduce((sum, { value }) => sum + (value.length > 4 ? even(value.length) : 0), 2 + 12 * fields.length + 4);

function writeFields(to: Buffer, at: number, fields: readonly Field[], order: Order): void {
  order.put16(to, fields.length, at);
  let longer = at + 2 + 12 * fields.length + 4;
  for (const [n, { tag, type, count, value }] of [...fields].sort((a, b) => a.tag - b.tag).entries()) {
    const entry = at + 2 + 12 * n;
    order.put16(to, tag, entry);
    order.put16(to, type, entry + 2);
    order.put32(to, count, entry + 4);
    if (value.length <= 4) {
      value.copy(to, entry + 8);
      continue;
    }
    order.put32(to, longer, entry + 8);
    value.copy(to, longer);
    longer += even(value.length);
  }
}
