/// <reference types="vite/client" />
/** Made by `vite.web.config.ts`: the checked catalog as lists. */
declare module 'virtual:catalog' {
  import type { KitItem, Mishap, PartKind, RigFact, SetUp, Source, Upkeep } from '../catalog/index.ts';

  const lists: {
    readonly sources: readonly Source[];
    readonly partKinds: readonly PartKind[];
    readonly setups: readonly SetUp[];
    readonly upkeeps: readonly Upkeep[];
    readonly mishaps: readonly Mishap[];
    readonly kit: readonly KitItem[];
    readonly rigFacts: readonly RigFact[];
  };
  export default lists;
}

declare module '*.jsonl?url' {
  const url: string;
  export default url;
}
