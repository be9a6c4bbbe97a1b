/** What somebody else has open on this device: it is theirs to finish, and may be carried on. */
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { openDeliveries, openVisits, yardName } from "../yard/visits";

export function LeftHere() {
  const w = words.value;
  const now = usePhone().now.value;
  const mine = (id: string) => (now.left[id] ?? now.person) === now.person;
  const nameOf = (id: string) =>
    now.people.find((one) => one.id === now.left[id])?.name ?? w.left_somebody;
  const lines = [
    ...openVisits(now).map((visit) => ({ ...visit, said: w.left_pickup })),
    ...openDeliveries(now).map((visit) => ({ ...visit, said: w.left_delivery })),
  ].filter(({ id }) => !mine(id));
  if (lines.length === 0) return null;
  return (
    <ul class="lines" {...testid("left-here")}>
      {lines.map(({ id, yard, said }) => (
        <li key={id} class="caution">
          {said(nameOf(id), yardName(now, yard))}
        </li>
      ))}
    </ul>
  );
}
