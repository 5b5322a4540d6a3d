/**
 * What lives here: the rooms joined. From the rig's state and the catalog on one day to the three answers, each worked out when it is
 * first asked for. Used alike by the command line, the server and the browser's worker. Pure.
 */
export { type Desk, openDesk } from './desk.ts';
export { type OutlookDesk, openOutlookDesk } from './outlook-desk.ts';
export { type Price, type WhatIf, whatIf } from './what-if.ts';
