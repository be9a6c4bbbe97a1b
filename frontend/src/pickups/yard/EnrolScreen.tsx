/** Setting a phone up with the code that the office shows, typed or brought by its square. */
import { useState } from "preact/hooks";
import { NoAnswer } from "../../sync/exchange";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

/** The code in the address (#enrol=CODE), taken out of it so that it is not kept in the history. */
function codeFromAddress(): string {
  const found = /^#enrol=([^&]+)/.exec(location.hash);
  if (found === null) return "";
  history.replaceState(null, "", location.pathname);
  return decodeURIComponent(found[1]!);
}

export function EnrolScreen() {
  const phone = usePhone();
  const w = words.value;
  const [code, setCode] = useState(codeFromAddress);
  const [name, setName] = useState(phone.now.value.enrolment?.name ?? "");
  const [busy, setBusy] = useState(false);
  const [faults, setFaults] = useState<{ code?: string; name?: string; whole?: string }>({});

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
      go("who");
    } catch (no) {
      setFaults(said(no));
    } finally {
      setBusy(false);
    }
  }

  function said(no: unknown): typeof faults {
    const trouble = no instanceof NoAnswer ? no.trouble : "server_away";
    if (trouble === "no_signal") return { whole: w.enrol_no_signal };
    if (trouble === "device_revoked") return { whole: w.enrol_revoked };
    const status = no instanceof NoAnswer ? no.status : null;
    const away = status === null || status >= 500 || status === 429 || status === 408;
    return away ? { whole: w.enrol_away } : { code: w.enrol_code_wrong };
  }

  return (
    <form class="page stack" onSubmit={submit} noValidate>
      <h1 tabIndex={-1}>{w.enrol_title}</h1>
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
      <button type="submit" class="button primary" disabled={busy} {...testid("enrol-submit")}>
        {busy ? w.enrol_busy : w.enrol_do}
      </button>
    </form>
  );
}
