/** What tabs and worker of one phone say to each other: few words, no data. */

/** On this channel: something in the databases has changed, look again. */
export const CHANNEL = "yardloop";
export const CHANGED = "changed";
/** On this channel: somebody locked this device. */
export const LOCKED = "locked";

/** Page to waiting worker: the person agreed, take over now. */
export const TAKE_OVER = "take_over";
/** Page to worker: this tab has started; kept builds that nobody runs may go. */
export const HERE = "here";
/** Worker to page, answered by port: which script does this tab run? */
export const WHICH_SCRIPT = "which_script";

/** Who holds this lock is the only one on this phone that sends, fetches or begins afresh. */
export const LOCK = "yardloop-sync";

/** The tag of Background Sync, where a browser has it. */
export const SYNC_TAG = "yardloop-sync";
