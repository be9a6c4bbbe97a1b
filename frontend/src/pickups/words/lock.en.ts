/** Who holds this device, in English: PINs, locking, another person's turn. */
export const lock = {
  who_title: "Who are you?",
  who_say: "What you enter is written down under your name.",
  who_add_title: "Who is it?",
  who_all_have: "Everybody of this place has a PIN here.",
  who_held: (name: string) => `${name} holds this device`,
  who_of: (name: string) => `Held by ${name}`,
  who_add: "Add a person",
  who_change_pin: "Change my PIN",
  who_next: "Somebody else",
  who_next_say: "Locks this device, for the next one to type a PIN. Nothing half entered is lost.",
  idle_title: "Locks by itself",
  idle_say: "After so many minutes without a touch. What is half entered is kept.",
  idle_minutes: (n: number) => `${n} min`,

  lock_now: "Lock",
  lock_title: "Locked",
  lock_say: "Type your PIN",
  lock_checking: "One moment",
  lock_wrong: "No PIN of this device.",
  lock_left: (n: number) =>
    n === 1
      ? "One try is left. After it this device forgets the lists; what was entered is kept."
      : `${n} tries are left. After them this device forgets the lists; what was entered is kept.`,
  lock_wait: (seconds: number) => `The next try in ${seconds} s.`,
  lock_ways:
    "No PIN here yet? Whoever has one adds you. Forgotten? The office shows a new code; everybody then sets a PIN anew.",
  lock_code: "I have a code of the office",
  lock_emptied: "This device needs the office",
  lock_emptied_ten:
    "Ten wrong PINs in a row. The lists are gone from this device. What was entered is kept and is sent.",
  lock_emptied_none:
    "Nobody of this place has a PIN here any more. What was entered is kept and is sent.",
  lock_emptied_do: "Type a code of the office",

  left_pickup: (name: string, yard: string) => `${name} has a pickup open here: ${yard}.`,
  left_delivery: (name: string, yard: string) => `${name} has a delivery open here: ${yard}.`,
  left_somebody: "Somebody else",

  pin: "Six digits, then once more",
  pin_old: "Your PIN of now",
  pin_old_forgotten: "Forgotten? The office shows a new code; everybody then sets a PIN anew.",
  pin_not_yours: "That is not your PIN.",
  pin_typed: (n: number) => `${n} of 6 digits`,
  pin_erase: "Erase",
  pin_new: (name: string) => `A PIN for ${name}`,
  pin_new_say: "On this device it says that it is you; tell nobody.",
  pin_again: "The same PIN once more",
  pin_differs: "The two were not the same. Choose one anew.",
  pin_equal: (typed: string) => `${typed} is one digit six times. Choose one that is not so plain.`,
  pin_running: (typed: string) => `${typed} runs in order. Choose one that is not so plain.`,
  pin_taken: "This PIN cannot be had on this device. Choose another.",
  pin_lost: "This device was set up anew meanwhile. Begin again.",
  pin_set: (name: string) => `${name} has a PIN now.`,
};
