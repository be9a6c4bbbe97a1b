/** The screen about this device itself, in English. */
const counted = (n: number, one: string, more: string) => `${n} ${n === 1 ? one : more}`;

export const en = {
  title: "This device",
  waits: "Not sent yet",
  waits_none: "Nothing. All that was entered here is with the office.",
  entries: (n: number) => counted(n, "entry", "entries"),
  since: (time: string) => `since ${time}`,
  photos: (n: number) => counted(n, "photo or signature", "photos or signatures"),
  needs: (n: number) => `${counted(n, "of them needs", "of them need")} you`,
  room: "Room",
  room_said: (used: string, free: string) => `${used} used here, ${free} free`,
  room_unknown: "This browser does not say.",
  room_short:
    "Little room is left. Photos are made smaller; entries are still saved. Delete what this device does not need, such as videos.",
  kept: "What is entered here",
  kept_yes: "is kept, even when the device runs short of room.",
  kept_no:
    "may be cleared by the browser when the device runs short. Put this app on the home screen and open it often.",
  kept_unknown: "This browser does not say whether it keeps it.",
  kept_ask: "Ask the browser to keep it",
  kept_refused: "The browser said no for now. It says yes to apps that are used often.",
  build: "Version of the app",
  build_unknown: "unknown",
  save: "Save what is unsent to a file",
  save_say:
    "For when this device cannot send. Only the office can open the file. Nothing is deleted here.",
  save_busy: "Saving",
  saved: (what: string, file: string) => `${what} saved as ${file}. Give the file to the office.`,
  and: (one: string, other: string) => `${one} and ${other}`,
  save_no_key:
    "This device was set up before it could save a file. Enrol it again with a new code; nothing is lost by that.",
  save_failed: "The file could not be made. All is still here. Free some room and try again.",
};

export type DeviceWords = typeof en;
