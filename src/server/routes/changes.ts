import type { Role } from '../../store/index.ts';
import type { Changes } from '../changes.ts';
import { EVENTS, type Identify } from '../register.ts';
import { type Route, route } from '../route.ts';
import { rigParams } from '../schemas.ts';

/** Tells a page that another device has written. */
export function changesRoute(changes: Changes, identify: Identify): Route {
  return route({
    method: 'GET',
    path: '/api/rigs/{rig}/changes',
    id: 'watchChanges',
    tag: 'Logbook',
    summary:
      'Server-sent events: `moved`, data `{"cursor": "…"}`, at once where the logbook is now, then within a second of every change; read the entries after your own cursor. `role`, data `{"role": "reader"}`, within seconds of your being given another one. Ends when you may no longer read the rig',
    access: 'reader',
    params: rigParams,
    streams: true,
    answers: { 200: { text: 'Events, until one of the two goes', type: EVENTS } },
    async handle({ params, who, request }) {
      const roleNow = async (): Promise<Role | undefined> => {
        const now = await identify(request);
        return now.via === who.via ? now.roleOn(params.rig) : undefined;
      };
      const events = await changes.open(params.rig, who.via, roleNow);
      // A proxy that gathers an answer before it passes it on would pass on nothing.
      return {
        stream: { content: events, type: EVENTS },
        headers: { 'cache-control': 'no-store', 'x-accel-buffering': 'no' },
      };
    },
  });
}
