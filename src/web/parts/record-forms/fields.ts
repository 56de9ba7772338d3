// Ties the inputs of a form to the fields of its draft.
import type { Faults } from '../../drafts/typed-numbers.ts';

export interface FormProps<Draft> {
  draft: Draft;
  onChange: (draft: Draft) => void;
  /** by field */
  faults: Faults;
  /** faults of fields still empty are shown only after an attempt to keep the form */
  isTried: boolean;
}

/** The fault to show beside a field: an empty field is not wrong while one is still typing. */
export function shownFault(
  { faults, isTried }: { faults: Faults; isTried: boolean },
  field: string,
  text: string,
): string | undefined {
  return isTried || text.trim() !== '' ? faults[field] : undefined;
}

/** Faults of one record of a sitting, by field. */
export function faultsOf(faults: Faults, recordId: string): Faults {
  const prefix = `${recordId}.`;
  return Object.fromEntries(
    Object.entries(faults)
      .filter(([field]) => field.startsWith(prefix))
      .map(([field, fault]) => [field.slice(prefix.length), fault]),
  );
}

/** Props of a text input for a field of the draft. */
export function textFields<Draft extends object>(props: FormProps<Draft>) {
  return (field: keyof Draft & string, label: string) => {
    const value = String(props.draft[field]);
    return {
      label,
      value,
      error: shownFault(props, field, value),
      onChange: (event: { currentTarget: { value: string } }) =>
        props.onChange({ ...props.draft, [field]: event.currentTarget.value }),
    };
  };
}
