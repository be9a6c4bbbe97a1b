/** Setting a phone up with the code that the office shows, typed or brought by its square. */
import { useEffect, useState } from "preact/hooks";
import { NoAnswer } from "../../sync/exchange";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { broughtCode, go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

export function EnrolScreen() {
  const phone = usePhone();
  const w = words.value;
  const { enrolment, shut } = phone.now.value;
  const brought = broughtCode.value;
  const [code, setCode] = useState(brought);
  const [name, setName] = useState(enrolment?.name ?? "");
  const [busy, setBusy] = useState(false);
  const [faults, setFaults] = useState<{ code?: string; name?: string; whole?: string }>({});

  useEffect(() => {
    if (brought === "") return;
    setCode(brought);
    setFaults({});
  }, [brought]);

  async function submit(event: Event) {
    event.preventDefault();
    if (busy) return;
    const missing = {
      ...(code.trim() ? {} : { code: w.enrol_code_missing }),
      ...(name.trim() ? {} : { name: w.enrol_name_missing }),
    };
    setFaults(missing);
    if (Object.keys(missing).length > 0) {
      document.getElementById("code" in missing ? "enrol-code" : "enrol-name")?.focus();
      return;
    }
    setBusy(true);
    try {
      await phone.enrol(code.trim().toUpperCase(), name.trim());
      broughtCode.value = "";
      go("who");
    } catch (no) {
      setFaults(said(no));
    } finally {
      setBusy(false);
    }
  }

  function said(no: unknown): typeof faults {
    if (!(no instanceof NoAnswer)) return { whole: w.save_failed };
    if (no.trouble === "no_signal") return { whole: w.enrol_no_signal };
    // Only the office's own word is about the code; a portal's 403 is not.
    const wrong = no.problem?.code === "code_spent" || no.problem?.code === "malformed";
    return wrong ? { code: w.enrol_code_wrong } : { whole: w.enrol_away };
  }

  return (
    <form class="page stack" onSubmit={submit} noValidate>
      {enrolment !== null && (
        <button type="button" class="button plain back" onClick={() => go()}>
          ‹ {w.back}
        </button>
      )}
      <h1 tabIndex={-1}>{w.enrol_title}</h1>
      {enrolment !== null && shut === null && (
        <p>{w.enrol_already(enrolment.name, enrolment.site_name)}</p>
      )}
      <p>{w.enrol_say}</p>
      <Field
        id="enrol-code"
        title={w.enrol_code}
        value={code}
        onValue={setCode}
        fault={faults.code ?? null}
        code
        input={{
          ...testid("enrol-code"),
          maxLength: 40,
          autocapitalize: "characters",
          spellcheck: false,
        }}
      />
      <Field
        id="enrol-name"
        title={w.enrol_name}
        hint={w.enrol_name_hint}
        value={name}
        onValue={setName}
        fault={faults.name ?? null}
        input={{ ...testid("enrol-name"), maxLength: 60 }}
      />
      <p role="alert" class={faults.whole ? "fault" : ""} {...testid("enrol-error")}>
        {faults.whole ?? ""}
      </p>
      <Bar>
        <button type="submit" class="button primary" disabled={busy} {...testid("enrol-submit")}>
          {busy ? w.enrol_busy : w.enrol_do}
        </button>
      </Bar>
    </form>
  );
}
