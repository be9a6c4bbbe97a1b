/**
 * Stable names of the controls that browser journeys use (attribute data-testid):
 *
 *   language                     the one switch between English and Spanish
 *   enrol-code, enrol-name, enrol-submit, enrol-error
 *   shut                         why the office lets this phone no further;  enrol-again
 *   person-<id>, who-change      who holds the phone;  who-next, who-add, who-change-pin, idle-<2..30>
 *   lock (a locked device), pin, pin-<0..9>, pin-erase, pin-said, pin-left, lock-code, lock-now,
 *   set-pin (a new one), pin-new, pin-again, pin-set, emptied (the office has to help), left-here
 *   yard-search, yard-<id>       start a pickup (one open already there: carries on with it)
 *   open-<pickup id>             an open pickup on Today;  recent-<pickup id>  a finished one
 *   count                        "12 on this pickup, customer says 14"
 *   label, label-fault, tread-<0..30>, tread-erase, tread-readings, tread-sum, tin, tin-letters,
 *   scan (opens the camera), scan-dialog, scan-video, scan-said, scan-torch, scan-type, scan-again
 *   label-next (the next of the roll), tin-2 ... (further TINs, each with -letters, -meant, -new,
 *   -retread, -remove), tin-another, tin-mileage, tin-cut-off, tin-year-<year>
 *   position-<wheels>, tread-unread, tread-turn (next place), tread-said; #treads takes typed depths
 *   size-<size>, brand, brand-<brand>, rating, rating-said
 *   ran-change, ran-said, odometer, odometer-in-mi, odometer-in-km, wheel, pulled-for
 *   size, same-again, note, photo, photo-fault, save, save-anyway (the label is on this phone already), saved
 *   casing-<LABEL>               a line of the list; data-standing is waiting, recorded,
 *                                in_question or needs_you; data-id is the casing's id
 *   relabel-open, relabel (the screen), relabel-find, relabel-<LABEL>, relabel-lost, relabel-spoiled,
 *   relabel-now, relabel-scan, known-by, relabel-save, relabelled
 *   correct-<LABEL>, withdraw, withdraw-reason, withdraw-confirm
 *   wanted-change (opens and closes what is wanted), wanted-said (its one line)
 *   work-retread, work-repair, basis, tread-design, purchase-order, unit, back-to-yard,
 *   back-to-store, promised (the sentence), promised-another, promised-on, promised-as-offered,
 *   offer-why, offer-spread, offer-ended, in-stock, exchange, dual-with
 *   line-said, line-change, line-<kind>, rim-<metal>, rim-fault, valve-out, valve-fault, complaint,
 *   claim-fault, sale-grade, sale-price, sale-pays-price, sale-pays-credit
 *   condition (the part), condition-said, condition-open, zone-<zone>[-<side>], kinds, kind-<kind>,
 *   cautions, finding (the one in hand), mm-<5..100>, finding-mm, finding-count, finding-count-fewer,
 *   finding-count-more, finding-photo, finding-off, finding-done, noted, noted-change-<n>,
 *   noted-off-<n>, noted-back;  stays, spec (data-verdict), spec-caution, overrule, overrule-<1..4>, overruled, leave-here
 *   scrap, pieces, scrap-step-<-1|1|5>, manifest, fee, scrap-save, scrap-back, scrap-line, left-line,
 *   correct-scrap, correct-left, left-said, left-save, left-taken, receipt-danger, pickup-door
 *   sign-count, sign-promised, sign-together, sign-list, signer, sign-pad, sign-pad-said, sign-clear,
 *   sign-another (the list is another one now), sign-again, read-in-<language>, sign-signs, sign-refuses,
 *   sign-nobody, refused-<why>, refused-fault, unsigned
 *   finish, customer-count, finish-error, finish-ask, finish-confirm, receipt, receipt-promised,
 *   receipt-signed, receipt-square, receipt-done
 *   take-trailer, trailer-number, trailer-seal, trailer-left, trailer-list, trailer-end, to-empty,
 *   empty-<pickup id>, seal, seal-state-<state>, own-count, open-trailer, emptied, emptied-count,
 *   emptied-seal, emptied-at, emptied-ask, emptied-end, trailer-emptied
 *   way-quick, way-whole, quick-form, quick-size, quick-size-other, quick-said
 *   to-look-at, look, look-<LABEL>, look-scan;  pile-before, pile-after
 *   run-<id>, loading-<run id>, stop-<uid> (data-state: done, passed, next, later), next-action
 *   stop, start-delivery, start-pickup, pass-by, pass-why, pass-confirm, take-up-again
 *   on-truck (in the line at the bottom), truck, unload, load-at-<site id>
 *   count, label, take, scan, scan-done; verdict (data-tone: good, again, asks, fault),
 *   question, answer-no, answer-yes; road-<LABEL> (data-done) a casing of a road's list
 *   drive-off, short;  site-<id>, own-count, start-unloading, end-unloading, reckoned, over,
 *   count-differs, scan-on, unloaded;  end-delivery, not-delivered, finish-delivery, put-away,
 *   delivered, fetch-here, delivered-done;  open-unload  an unloading on Today
 *   counter: workplace (to and from it), find, find-said, found-<id>, drop-off, hand-over, from-yard,
 *   customer-count, treads, booked, print-<LABEL>, print-waiting, print-said, labels-left,
 *   finish-half, ticket, ticket-number, ticket-days, ticket-labels, ticket-print, waiting-<customer>,
 *   ready-<LABEL>, hand-over-count, hand-over-confirm, handed-over, receive, truck-<LABEL>, bringer,
 *   about, where, promise, story, with-us-<LABEL>, counter-back
 *   plant: floor-door, station-choice, station-<code>, station-change, station-caution, today, queue
 *   (data-count), next-<LABEL>, last-scans, last-<LABEL> (data-standing, data-back), back-<LABEL>,
 *   back-why-<1..3>, at-casing (data-label), casing-label, aside, unheard, wanted, stands, never,
 *   release-<n>, findings, find-<n>, limit (data-says), answer-<outcome>, answer-confirm,
 *   answer-back, answer-fault, form-<outcome>, reason-<CODE>, reason-all, cause-<cause>,
 *   again-<station>, <gauge>, pitch, tread-length, length-off, length-gum, width, wanted-figures,
 *   off-<gauge>, lot-<material>, machine-<n>,
 *   envelope, tag, as-ordered-<field>, differs, lists, list-<id>, count-done, list-count, list-end,
 *   reckoned, short, over, loads, load-new, load-<number>, load-begin, load-title, load-count,
 *   set-in, in-<LABEL>, missing, missing-<LABEL>, cure-begins, cure-ends
 *   status-line                  the line at the bottom; data-reach says how the last try went
 *   waiting                      its text holds the number that waits to be sent (0 too)
 *   photos-waiting, needs-you (to the list of them), again-<id>, new-version
 *   device-open (to the device's own screen), needs-device, device, device-waits, device-room, device-kept (data-kept),
 *   device-build, device-save, device-saved, device-door;  tight (no room for all of it), tight-look
 */
export const testid = (name: string): { "data-testid": string } => ({ "data-testid": name });
