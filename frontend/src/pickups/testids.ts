/**
 * Stable names of the controls that browser journeys use (attribute data-testid):
 *
 *   language                     the one switch between English and Spanish
 *   enrol-code, enrol-name, enrol-submit, enrol-error
 *   shut                         why the office lets this phone no further;  enrol-again
 *   person-<id>, who-change      who holds the phone
 *   yard-search, yard-<id>       start a pickup (one open already there: carries on with it)
 *   open-<pickup id>             an open pickup on Today;  recent-<pickup id>  a finished one
 *   count                        "12 on this pickup, customer says 14"
 *   label, label-fault, tread-<0..30>, tread-erase, tread-readings, tread-sum, tin, tin-letters,
 *   scan (opens the camera), scan-dialog, scan-video, scan-said, scan-torch, scan-type, scan-again
 *   size, same-again, note, photo, photo-fault, save, save-anyway (the label is on this phone already), saved
 *   casing-<LABEL>               a line of the list; data-standing is waiting, recorded,
 *                                in_question or needs_you; data-id is the casing's id
 *   correct-<LABEL>, withdraw, withdraw-reason, withdraw-confirm
 *   finish, customer-count, finish-error, finish-ask, finish-confirm, receipt, receipt-done
 *   status-line                  the line at the bottom; data-reach says how the last try went
 *   waiting                      its text holds the number that waits to be sent (0 too)
 *   photos-waiting, needs-you (to the list of them), again-<id>, new-version
 */
export const testid = (name: string): { "data-testid": string } => ({ "data-testid": name });
