/** What is said everywhere of this device and its room, in English. */
export const device = {
  floor_not_here: "The stations have not reached this tablet yet.",
  device_open: "This device",
  device_not_here: "This screen is not on the device yet. Go where there is signal and try again.",
  tight_smaller: "This device is nearly full. Photos were made smaller to fit; all is saved.",
  tight_later:
    "This device is full. The entry is saved; its photos are kept here and are sent as soon as there is room.",
  tight_without_photos:
    "This device is full. The entry is saved, its photos are not. Note what they showed.",
  tight_sheet:
    "This device is full. What is half entered is here only as long as the app stays open: save it, or free some room.",
  tight_room: "See the room",
  photo_no_room:
    "No room for a photo, not even a small one. Save without it and note what it would show; then delete videos or other apps’ files.",
  photos_to_send: (n: number) => (n === 1 ? "1 photo still to send" : `${n} photos still to send`),
};
