/**
 * What lives here: the network. The HTTP API over a store, the built web app, and who may ask for what. Hands: a socket; what
 * the answers say comes from the pure rooms.
 */
export { type AccessMode, LINK_HEADER } from './identity.ts';
export { type Listening, PORT, serve } from './serve.ts';
export { createServer, type ServerOptions } from './server.ts';
