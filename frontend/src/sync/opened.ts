/** What a PIN opened, as long as this page is unlocked. In memory only; a worker holds nothing. */
export interface Opened {
  /** The read token; null as long as this page is locked. */
  token: string | null;
  /** Who unlocked this page last; stays when it is locked again. */
  person: string | null;
}
