/**
 * What lives here: the network. The HTTP API over a store, the built web app, and who may ask for what. Hands: a socket; what
 * the answers say comes from the pure rooms.
 */
export { type Listening, PORT, serve } from './serve.ts';
export { createServer, type ServerOptions } from './server.ts';
export type { Role } from './who.ts';
