import { MOISTURE } from '../../../api/calc/terms/term-units.ts';
import type { Binding } from '../../lib/binding.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { useField } from '../../parts/form-context.ts';

/** The elements that a clause counts together, of those whose assay the contract settles. */
export function ElementsField(props: {
  label: string;
  elements: Binding<string[]>;
  offered: readonly string[];
  hint?: string;
}) {
  const { label, elements, offered, hint } = props;
  const state = useField({
    label,
    pointer: elements.pointer,
    hint,
    check: () => (elements.value.length === 0 ? 'Choose at least one.' : null),
  });
  const all = [...new Set([...offered, ...elements.value])].filter((element) => element !== '');
  return (
    <fieldset
      id={state.id}
      tabIndex={-1}
      className={state.error === null ? 'elements-field' : 'elements-field field-error-mark'}
      aria-describedby={state.describedBy}
    >
      <legend className="field-label">{label}</legend>
      {hint === undefined ? null : (
        <p className="field-hint" id={`${state.id}-hint`}>
          {hint}
        </p>
      )}
      <div className="elements-field-list">
        {all.map((element) => (
          <CheckField
            key={element}
            label={element === MOISTURE ? 'Moisture' : element}
            value={elements.value.includes(element)}
            onChange={(chosen) => {
              elements.update((list) =>
                chosen ? [...list, element] : list.filter((one) => one !== element),
              );
              state.noteChange();
            }}
          />
        ))}
      </div>
      {state.error === null ? null : (
        <p className="field-error" id={`${state.id}-error`}>
          {state.error}
        </p>
      )}
    </fieldset>
  );
}
