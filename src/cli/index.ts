/**
 * What lives here: the terminal. One file a command, views that fit 80 columns, and the edge, the only place that reads the clock, the
 * environment and the keyboard. Nothing is judged here; `main` runs in process with everything it may touch handed in.
 */
export type { Io } from './io.ts';
export { main } from './main.ts';
