import { closeSync, openSync, readSync } from 'node:fs';

/**
 * Finds damage in a write-ahead log that SQLite itself passes over: it reads a log up to the first frame whose checksum is wrong and
 * takes what follows for never written, so that a single flipped bit silently takes acknowledged entries away. Here what follows is
 * looked at, too. Format: https://www.sqlite.org/fileformat2.html#the_write_ahead_log
 */

const HEADER_BYTES = 32;
const FRAME_HEADER_BYTES = 24;
/** How many bytes of a frame's header are under its checksum. */
const SUMMED_BYTES = 8;
const MAGIC_LITTLE = 0x377f0682;
const MAGIC_BIG = 0x377f0683;

type Sum = readonly [number, number];
const isSame = (a: Sum, b: Sum): boolean => a[0] === b[0] && a[1] === b[1];
const sumAt = (bytes: Buffer, at: number): Sum => [bytes.readUInt32BE(at), bytes.readUInt32BE(at + 4)];

/** Whether a log is damaged: something in its middle is wrong, or one bit of its last frame. A frame half written at its end is not. */
export function isLogDamaged(log: string): boolean {
  // A second look: another process may have begun the log anew during the first.
  return looksDamaged(log) && looksDamaged(log);
}

function looksDamaged(log: string): boolean {
  const fd = openSync(log, 'r');
  try {
    return new LogReader(fd).isDamaged();
  } finally {
    closeSync(fd);
  }
}

class LogReader {
  readonly #fd: number;
  readonly #header: Buffer;

  constructor(fd: number) {
    this.#fd = fd;
    this.#header = this.#read(0, HEADER_BYTES) ?? Buffer.alloc(0);
  }

  #read(at: number, bytes: number): Buffer | undefined {
    const piece = Buffer.allocUnsafe(bytes);
    return readSync(this.#fd, piece, 0, bytes, at) === bytes ? piece : undefined;
  }

  isDamaged(): boolean {
    if (this.#header.length === 0) return false;
    for (const isBig of [false, true]) {
      const computed = sumOf([0, 0], this.#header, 0, HEADER_BYTES - 8, isBig);
      const isWhole =
        isSame(computed, sumAt(this.#header, 24)) &&
        this.#header.readUInt32BE(0) === (isBig ? MAGIC_BIG : MAGIC_LITTLE);
      if (isWhole) return this.#areFramesDamaged(computed, isBig);
    }
    return this.#isHeaderDamaged();
  }

  /** The header is wrong. When its first frame goes with what it said, it was right once; else it was being written. */
  #isHeaderDamaged(): boolean {
    for (const isBig of [false, true]) {
      const seeds = [sumAt(this.#header, 24), sumOf([0, 0], this.#header, 0, HEADER_BYTES - 8, isBig)];
      for (const pageBytes of pageSizes(this.#header.readUInt32BE(8))) {
        const first = this.#frame(0, pageBytes);
        if (first && seeds.some((seed) => isSame(first.summed(seed, isBig), first.sum))) return true;
      }
    }
    return false;
  }

  #areFramesDamaged(start: Sum, isBig: boolean): boolean {
    const pageBytes = this.#header.readUInt32BE(8);
    const salts = this.#header.subarray(16, 24);
    let seed = start;
    for (let n = 0; ; n++) {
      const frame = this.#frame(n, pageBytes);
      if (!frame) return false;
      const computed = frame.summed(seed, isBig);
      if (isSame(computed, frame.sum) && frame.salts.equals(salts)) {
        seed = computed;
        continue;
      }
      const next = this.#frame(n + 1, pageBytes);
      const isFollowed =
        next?.salts.equals(salts) === true &&
        [frame.sum, computed].some((from) => isSame(next.summed(from, isBig), next.sum));
      return isFollowed || frame.isOneBitOff(seed, salts, isBig);
    }
  }

  #frame(n: number, pageBytes: number): Frame | undefined {
    const bytes = FRAME_HEADER_BYTES + pageBytes;
    const piece = this.#read(HEADER_BYTES + n * bytes, bytes);
    return piece && new Frame(piece);
  }
}

/** The page size that the header gives, or, in case that is what is wrong, any that there is. */
const pageSizes = (said: number): number[] =>
  [...new Set([said, 4096, 1024, 2048, 512, 8192, 16_384, 32_768, 65_536])].filter(
    (bytes) => bytes >= 512 && bytes <= 65_536 && (bytes & (bytes - 1)) === 0,
  );

class Frame {
  readonly #bytes: Buffer;
  readonly sum: Sum;
  readonly salts: Buffer;

  constructor(bytes: Buffer) {
    this.#bytes = bytes;
    this.sum = sumAt(bytes, 16);
    this.salts = bytes.subarray(8, 16);
  }

  summed(seed: Sum, isBig: boolean): Sum {
    const ofHeader = sumOf(seed, this.#bytes, 0, SUMMED_BYTES, isBig);
    return sumOf(ofHeader, this.#bytes, FRAME_HEADER_BYTES, this.#bytes.length, isBig);
  }

  /** Whether one bit makes the difference between this frame and one that is right. One half written differs by many. */
  isOneBitOff(seed: Sum, salts: Buffer, isBig: boolean): boolean {
    const computed = this.summed(seed, isBig);
    const bitsOfSalts = bitsApart(this.salts, salts);
    if (isSame(computed, this.sum)) return bitsOfSalts === 1;
    if (bitsOfSalts > 0) return false;
    const apart: Sum = [(computed[0] - this.sum[0]) >>> 0, (computed[1] - this.sum[1]) >>> 0];
    const isInSum = bitsIn((computed[0] ^ this.sum[0]) >>> 0) + bitsIn((computed[1] ^ this.sum[1]) >>> 0) === 1;
    return isInSum || isOneBitOfContent(apart, (SUMMED_BYTES + this.#bytes.length - FRAME_HEADER_BYTES) / 4);
  }
}

/**
 * The checksum is linear modulo 2^32: a bit `b` of the word `k` from the end changes it by ±2^b times a pair of numbers that depends on
 * `k` alone (of Fibonacci's series). Whether some bit explains the difference is thus a search of 32 × words, not of checksums.
 */
function isOneBitOfContent(apart: Sum, words: number): boolean {
  // What adding 1 to the last word of a pair, and to the first, does to the sums; then how each pair that follows carries it on.
  let second: Sum = [0, 1];
  let first: Sum = [1, 1];
  const carried = ([a, b]: Sum): Sum => [(a + b) >>> 0, (a + 2 * b) >>> 0];
  for (let pair = 0; pair < words / 2; pair++) {
    for (const [a, b] of [first, second])
      for (let bit = 0; bit < 32; bit++) {
        const times = 2 ** bit;
        const up: Sum = [Math.imul(a, times) >>> 0, Math.imul(b, times) >>> 0];
        if (isSame(up, apart) || isSame([-up[0] >>> 0, -up[1] >>> 0], apart)) return true;
      }
    first = carried(first);
    second = carried(second);
  }
  return false;
}

function bitsIn(word: number): number {
  let count = 0;
  for (let rest = word; rest; rest &= rest - 1) count++;
  return count;
}

function bitsApart(a: Buffer, b: Buffer): number {
  return a.reduce((sum, byte, at) => sum + bitsIn(byte ^ b[at]!), 0);
}

/** SQLite's checksum over pairs of 32-bit words. */
function sumOf([a, b]: Sum, bytes: Buffer, from: number, to: number, isBig: boolean): Sum {
  let s0 = a;
  let s1 = b;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  for (let at = from; at < to; at += 8) {
    s0 = (s0 + view.getUint32(at, !isBig) + s1) | 0;
    s1 = (s1 + view.getUint32(at + 4, !isBig) + s0) | 0;
  }
  return [s0 >>> 0, s1 >>> 0];
}
