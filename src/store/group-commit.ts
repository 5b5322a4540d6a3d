/** One caller's share of a group. */
interface Waiting<J, R> {
  readonly job: J;
  readonly resolve: (value: R) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * Commits jobs that arrive in the same turn of the event loop as one group, in the order of arrival. Waiting for the disk is
 * what a durable write costs; ten writers waiting together wait once. `commit` does a whole group durably, or throws with none
 * of it done; then each of the group is tried alone, so that one writer's bad luck is not another's.
 */
export class GroupCommit<J, R> {
  readonly #commit: (jobs: readonly J[]) => readonly R[];
  #waiting: Waiting<J, R>[] = [];

  constructor(commit: (jobs: readonly J[]) => readonly R[]) {
    this.#commit = commit;
  }

  add(job: J): Promise<R> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({ job, resolve, reject });
      if (this.#waiting.length === 1) setImmediate(() => this.#flush());
    });
  }

  #flush(): void {
    const group = this.#waiting;
    this.#waiting = [];
    try {
      const results = this.#commit(group.map(({ job }) => job));
      for (const [i, { resolve }] of group.entries()) resolve(results[i]!);
    } catch (error) {
      if (group.length === 1) group[0]!.reject(error);
      else for (const waiting of group) this.#alone(waiting);
    }
  }

  #alone({ job, resolve, reject }: Waiting<J, R>): void {
    try {
      resolve(this.#commit([job])[0]!);
    } catch (error) {
      reject(error);
    }
  }
}
