/** Where databases live and how firmly the device keeps them. */

export interface Storage {
  /** Put before every database's name; empty on a real phone. */
  prefix: string;
  /** Asks the device not to clear our data; says whether it agreed. */
  persist(): Promise<boolean>;
}

export const deviceStorage: Storage = {
  prefix: "",
  async persist() {
    // Only a page may ask; a worker has no such question.
    const manager = navigator.storage as { persist?: () => Promise<boolean> } | undefined;
    return (await manager?.persist?.()) ?? false;
  },
};
