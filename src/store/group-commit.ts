/** One caller's share of a group. */
interface Waiting<J, R> {
  readonly job: J;
  readonly resolve: (value: R) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * How long a job may wait for as many as came together the last time: about what one flush of the disk takes. Somebody who
 * writes alone never waits.
 */
const WAIT_MS = 0.5;

/**
 * Commits jobs that arrive in one turn of the event loop, or soon after while others write, too, as one group, in the order of
 * arrival. Waiting for the disk is what a durable write costs; ten writers waiting together wait once. `commit` does a whole
 * group durably, or throws with none of it done; then each of the group is tried alone, so that one writer's bad luck is not
 * another's.
 */
export class GroupCommit<J, R> {
  readonly #commit: (jobs: readonly J[]) => readonly R[];
  #waiting: Waiting<J, R>[] = [];
  #since = 0;
  /** Size of the last group: so many are likely to come again. */
  #expected = 1;

  constructor(commit: (jobs: readonly J[]) => readonly R[]) {
    this.#commit = commit;
  }

  add(job: J): Promise<R> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({ job, resolve, reject });
      if (this.#waiting.length > 1) return;
      this.#since = performance.now();
      setImmediate(() => this.#turn());
    });
  }

  #turn(): void {
    const early = this.#waiting.length < this.#expected && performance.now() - this.#since < WAIT_MS;
    if (early) setImmediate(() => this.#turn());
    else this.#flush();
  }

  #flush(): void {
    const group = this.#waiting;
    this.#waiting = [];
    this.#expected = group.length;
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
