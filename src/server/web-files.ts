import { existsSync } from 'node:fs';
import { join } from 'node:path';
import serveStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

/** Serves the built web app. Files with a hash in their name never change; all others are asked about again. */
export async function serveWeb(app: FastifyInstance, folder: string): Promise<void> {
  if (!existsSync(join(folder, 'index.html'))) {
    throw new Error(`There is no built web app in ${folder}. Build it first: npm start does.`);
  }
  await app.register(serveStatic, {
    root: folder,
    dotfiles: 'deny',
    cacheControl: false,
    preCompressed: true,
    setHeaders: (reply, path) => {
      const hashed = /-[\w-]{8,}\.\w+(\.br|\.gz)?$/.test(path);
      reply.header('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
}
