/** How long nobody may try a PIN yet, in milliseconds, counted down. */
import { useEffect, useState } from "preact/hooks";
import { usePhone } from "../context";

export function useWait(): number {
  const phone = usePhone();
  const { wrongPins } = phone.now.value;
  const [waitMs, setWaitMs] = useState(0);
  // What is left to wait is read from the disk: a page loaded anew waits as long.
  useEffect(() => {
    let over = () => {};
    const look = async () => {
      const left = await phone.lock.waitMs();
      setWaitMs(left);
      if (left > 0) over = phone.deps.clock.after(Math.min(left, 1000), () => void look());
    };
    void look();
    return () => over();
  }, [wrongPins]);
  return waitMs;
}
