/** What somebody may do on a rig: read it, write into its logbook, and decide who else may. */
export type Role = 'reader' | 'helper' | 'owner';

const rank: Record<Role, number> = { reader: 1, helper: 2, owner: 3 };

export function mayAct(has: Role | undefined, needed: Role): boolean {
  return has !== undefined && rank[has] >= rank[needed];
}

/** Who makes a request. */
export interface Who {
  /** `local`: the owner at their own machine, without accounts. `link`: somebody with a read-only link. */
  readonly kind: 'local' | 'account' | 'link' | 'nobody';
  /** As written into entries. */
  readonly name: string;
  /** What the store notes as the one who handed something in. */
  readonly via: string;
  roleOn(rig: string): Promise<Role | undefined>;
  /** Rigs this caller may see; undefined: all there are. */
  rigs(): Promise<ReadonlyMap<string, Role> | undefined>;
}

/** The owner at their own machine. */
export function localOwner(name: string): Who {
  return { kind: 'local', name, via: 'local', roleOn: async () => 'owner', rigs: async () => undefined };
}

export const NOBODY: Who = {
  kind: 'nobody',
  name: '',
  via: '',
  roleOn: async () => undefined,
  rigs: async () => new Map(),
};
