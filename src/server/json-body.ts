import { problemError } from './problem-response.ts';

/** An entry nests five deep; nothing that is asked here nests deeper than ten. */
const DEPTH_MAX = 64;

const [QUOTE, BACKSLASH, OPEN_LIST, CLOSE_LIST, OPEN_OBJECT, CLOSE_OBJECT] = [...'"\\[]{}'].map((char) =>
  char.charCodeAt(0),
);

/**
 * Refuses JSON that nests without end, before it is parsed: whatever walks through the value afterwards (a schema, a sort of keys)
 * would run out of stack. Problems: `request.too-deep`.
 */
export function refuseDeepJson(text: string): void {
  let depth = 0;
  let inText = false;
  for (let at = 0; at < text.length; at++) {
    const char = text.charCodeAt(at);
    if (inText) {
      if (char === BACKSLASH) at++;
      else if (char === QUOTE) inText = false;
    } else if (char === QUOTE) inText = true;
    else if (char === OPEN_LIST || char === OPEN_OBJECT) {
      depth++;
      if (depth > DEPTH_MAX)
        throw problemError('request.too-deep', 'The JSON nests too deep', {
          where: `character ${at + 1}`,
          expected: `at most ${DEPTH_MAX} lists and objects within each other`,
        });
    } else if (char === CLOSE_LIST || char === CLOSE_OBJECT) depth--;
  }
}

/** Where a text with a NUL is, if there is one: PostgreSQL keeps none. The value nests no deeper than `refuseDeepJson` lets through. */
export function nulIn(value: unknown, path: readonly string[] = []): readonly string[] | undefined {
  if (typeof value === 'string') return value.includes('\0') ? path : undefined;
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return undefined;
  for (const [key, inner] of Object.entries(value)) {
    if (key.includes('\0')) return path;
    const found = nulIn(inner, [...path, key]);
    if (found) return found;
  }
  return undefined;
}
