import type { FoundLink, Person, Role, Session, Store } from '../store/index.ts';

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
  readonly signedIn?: { readonly person: Person; readonly session: Session };
  /** By which read-only link they came. */
  readonly link?: FoundLink;
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

/** Somebody signed in. Roles are asked for at every request: one taken away is gone at once. */
export function accountHolder(store: Store, signedIn: { person: Person; session: Session }): Who {
  const { account, shown } = signedIn.person;
  const { roles } = store.accounts;
  return {
    kind: 'account',
    name: shown,
    via: account,
    signedIn,
    roleOn: (rig) => roles.of(rig, account),
    rigs: () => roles.rigsOf(account),
  };
}

/** Somebody with a link to one rig: they may read it, and nothing else, whatever the link says. */
export function linkHolder(link: FoundLink): Who {
  return {
    kind: 'link',
    name: link.label,
    via: `link ${link.id}`,
    link,
    roleOn: async (rig) => (rig === link.rig ? 'reader' : undefined),
    rigs: async () => new Map([[link.rig, 'reader']]),
  };
}
