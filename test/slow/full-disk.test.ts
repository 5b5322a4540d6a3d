import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { Folder } from '../support/keeping.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Runs a shell line where it may mount file systems of its own, which end with it. */
function inNamespace(line: string) {
  return spawnSync('unshare', ['--user', '--map-root-user', '--mount', 'sh', '-c', line], {
    cwd: root,
    encoding: 'utf8',
  });
}

describe('a full disk', () => {
  const folder = new Folder();
  const mount = `mount -t tmpfs -o size=1m tmpfs ${folder.path}`;
  const able = inNamespace(mount);

  if (able.status !== 0) {
    it('cannot be made here: small file systems may not be mounted', () => {
      console.warn(`A full disk was only tested by SQLite's own limit of pages: ${able.stderr || able.error}`);
      expect(able.status).not.toBe(0);
    });
  } else {
    it('is told clearly, loses nothing, and when there is space again the work goes on', () => {
      const done = inNamespace(`${mount} && node --import tsx test/slow/full-disk-run.ts ${folder.path}`);
      expect(done.stderr).toBe('');
      const said = JSON.parse(done.stdout);
      const each = (code: string) =>
        Object.fromEntries(
          ['append', 'blob', 'copy', 'encrypted', 'lines', 'archive', 'upgrade', 'restore'].map((what) => [what, code]),
        );
      expect(said.full).toEqual(each('store.full'));
      expect(said.kept).toBeGreaterThan(100);
      const asBefore = { ok: true, rigs: [{ rig: 'marigold', entries: said.kept }], blobs: { count: 0 } };
      expect(said.whileFull).toMatchObject(asBefore);
      expect(said.left).toEqual([]);
      expect(said.afterRestore).toMatchObject(asBefore);
      expect(said.space).toEqual(each('done'));
      expect(said.after).toMatchObject({
        ok: true,
        rigs: [
          { rig: 'marigold', entries: said.kept + 1 },
          { rig: 'wren', entries: 3000 },
        ],
        blobs: { count: 2 },
      });
      expect(said.oldCheck).toMatchObject({ ok: true, rigs: [{ entries: 150 }] });
      folder.remove();
    });
  }
});
