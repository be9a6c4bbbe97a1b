/** A picture that may leave the phone: small enough, upright, without its place in it. */

export interface Developed {
  blob: Blob;
  /** Which of domain/room's RUNGS it is. */
  rung: number;
}

export interface Camera {
  /**
   * A JPEG of at most 1 MiB, on the first rung from `from` on that is small enough; throws where
   * the file is no picture.
   */
  develop(file: Blob, from?: number): Promise<Developed>;
  /** The SHA-256 of exactly these bytes, in hex. */
  hash(photo: Blob): Promise<string>;
}
