import { z } from 'zod';
import { unwrap } from '../../problem/index.ts';
import { BLOB_BYTES_MAX, photoToShow, type Store, THUMBNAIL_TYPE } from '../../store/index.ts';
import { matches } from '../guard.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { rigName, rigParams } from '../schemas.ts';
import { mayAct } from '../who.ts';

const info = z.object({ hash: z.string(), type: z.string(), bytes: z.number().int() }).meta({ id: 'Blob' });

const blobParams = z.strictObject({
  rig: rigName,
  hash: z.string().regex(/^[0-9a-f]{64}$/, 'expected 64 hexadecimal digits'),
});

/** Photos and papers of a rig. */
export function blobRoutes(store: Store): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/blobs',
      id: 'listBlobs',
      tag: 'Photos and papers',
      summary: 'What photos and papers there are',
      access: 'reader',
      params: rigParams,
      answers: { 200: { text: 'By hash', schema: z.object({ blobs: z.array(info) }) } },
      async handle({ params }) {
        return { json: { blobs: await store.blobsOf(params.rig) } };
      },
    }),
    route({
      method: 'POST',
      path: '/api/rigs/{rig}/blobs',
      id: 'sendBlob',
      tag: 'Photos and papers',
      summary: 'Keep a photo (JPEG, PNG, WebP, HEIC, AVIF) or a PDF. Its kind is found by looking at it',
      access: 'helper',
      params: rigParams,
      body: 'file',
      bodyMax: BLOB_BYTES_MAX + 1024,
      answers: { 201: { text: 'Kept, or was kept already', schema: info } },
      async handle({ params, body }) {
        return { status: 201, json: unwrap(await store.putBlob(params.rig, body as unknown as Uint8Array)) };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/blobs/{hash}',
      id: 'readBlob',
      tag: 'Photos and papers',
      summary:
        'One photo or paper, as it was handed in; for readers and links written anew, without where it was taken',
      access: 'reader',
      params: blobParams,
      answers: { 200: { text: 'Its bytes', type: 'application/octet-stream' } },
      async handle({ params, request, who }) {
        const blob = await store.getBlob(params.rig, params.hash);
        if (!blob) throw noSuch(params.hash);
        const whole = mayAct(await who.roleOn(params.rig), 'helper');
        const headers = unchanging(`${params.hash.slice(0, 27)}${whole ? '' : '-shown'}`);
        if (matches(request.headers['if-none-match'], headers.etag)) return { status: 304, headers };
        const content = whole ? blob.content : unwrap(await photoToShow(blob.content, blob.type));
        return { bytes: { content, type: blob.type }, headers };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/blobs/{hash}/thumbnail',
      id: 'readThumbnail',
      tag: 'Photos and papers',
      summary: 'A small picture of a photo, at most 480 pixels wide and high; a HEIC or a PDF has none',
      access: 'reader',
      params: blobParams,
      answers: { 200: { text: 'A WebP', type: THUMBNAIL_TYPE } },
      async handle({ params, request }) {
        const made = await store.thumbnail(params.rig, params.hash);
        if (!made) throw noSuch(params.hash);
        const content = unwrap(made);
        const headers = unchanging(`${params.hash.slice(0, 27)}-small`);
        if (matches(request.headers['if-none-match'], headers.etag)) return { status: 304, headers };
        return { bytes: { content, type: THUMBNAIL_TYPE }, headers };
      },
    }),
  ];
}

const noSuch = (hash: string) => problemError('request.not-found', 'There is no such photo or paper', { where: hash });

/** The same bytes for ever; a document of somebody else's making must not run as a page of ours. */
const unchanging = (tag: string) => ({
  etag: `"${tag}"`,
  'cache-control': 'private, max-age=31536000, immutable',
  'content-security-policy': "default-src 'none'; sandbox",
});
