// By its name: what a package of the older module form exports by default, bundlers and Node do not agree on.
import type BTree from 'sorted-btree';
import { EmptyBTree } from 'sorted-btree';

type Tree<V> = BTree<string, V>;

const emptyTree = <V>(): Tree<V> => EmptyBTree.clone();

/**
 * A map from text to values, in the order of its keys, never changed in place. One more key copies only the nodes of the tree that lead
 * to it (at most 32 entries each), whatever the size of the whole; the rest is shared with the map before.
 */
export class SortedMap<V> {
  readonly #tree: Tree<V>;

  private constructor(tree: Tree<V>) {
    this.#tree = tree;
  }

  static empty<V>(): SortedMap<V> {
    return new SortedMap<V>(emptyTree<V>());
  }

  /** Of several values of one key the first stays. */
  static of<V>(pairs: Iterable<readonly [key: string, value: V]>): SortedMap<V> {
    const tree = emptyTree<V>();
    for (const [key, value] of pairs) tree.setIfNotPresent(key, value);
    return new SortedMap(tree);
  }

  get size(): number {
    return this.#tree.size;
  }

  get(key: string): V | undefined {
    return this.#tree.get(key);
  }

  has(key: string): boolean {
    return this.#tree.has(key);
  }

  with(key: string, value: V): SortedMap<V> {
    const tree = this.#tree.clone();
    tree.set(key, value);
    return new SortedMap(tree);
  }

  without(key: string): SortedMap<V> {
    if (!this.has(key)) return this;
    const tree = this.#tree.clone();
    tree.delete(key);
    return new SortedMap(tree);
  }

  [Symbol.iterator](): IterableIterator<[string, V]> {
    return this.#tree.entries();
  }

  /** Pairs whose keys begin with `prefix`. */
  *under(prefix: string): Generator<[string, V]> {
    for (const pair of this.#tree.entries(prefix)) {
      if (!pair[0].startsWith(prefix)) return;
      yield pair;
    }
  }

  keys(): IterableIterator<string> {
    return this.#tree.keys();
  }

  values(): IterableIterator<V> {
    return this.#tree.values();
  }

  /** Values in the order of their keys. */
  inOrder(): V[] {
    return [...this.values()];
  }
}
