/** A picture that may leave the phone: small enough, upright, without its place in it. */

export interface Camera {
  /** A JPEG of at most 1600 px and 1 MiB; throws where the file is no picture. */
  develop(file: Blob): Promise<Blob>;
  /** The SHA-256 of exactly these bytes, in hex. */
  hash(photo: Blob): Promise<string>;
}
