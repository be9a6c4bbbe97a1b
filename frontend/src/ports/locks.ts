/** One sender at a time among all tabs and the worker of this device. */

export interface Locks {
  /** Runs `work` when nobody else holds `name`; freed also when the holder dies. */
  hold<T>(name: string, work: () => Promise<T>): Promise<T>;
}

export const webLocks: Locks = {
  hold: async (name, work) => await navigator.locks.request(name, work),
};
