import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask } from '../replica/client.ts';
import type { Field } from '../replica/views/form-fields.ts';
import { RouteFile } from './route-file.tsx';

/** Fields under their groups; what is wrong with one is said beside it. */
export function FieldGroups({
  fields,
  problems,
}: {
  readonly fields: readonly Field[];
  readonly problems: readonly Problem[];
}) {
  return (
    <>
      {groupsOf(fields).map(({ group, fields: members }) => (
        <fieldset key={group} class={group === '' ? 'bare' : ''}>
          {group !== '' && <legend>{group}</legend>}
          {members.map((field) => (
            <FieldRow key={field.path} field={field} problems={problems} />
          ))}
        </fieldset>
      ))}
    </>
  );
}

/** What was filled in, by path; a unit chosen beside a number stands under `path#unit`. */
export function filledIn(form: HTMLFormElement, fields: readonly Field[]): Record<string, string> {
  const data = new FormData(form);
  const values: Record<string, string> = {};
  for (const [name, value] of data) values[name] = String(value);
  for (const field of fields) if (field.type === 'check') values[field.path] = String(data.has(field.path));
  return values;
}

function groupsOf(fields: readonly Field[]): { group: string; fields: Field[] }[] {
  const groups = new Map<string, Field[]>();
  for (const field of fields) groups.set(field.group, [...(groups.get(field.group) ?? []), field]);
  return [...groups].map(([group, members]) => ({ group, fields: members }));
}

function FieldRow({ field, problems }: { readonly field: Field; readonly problems: readonly Problem[] }) {
  const mine = problems.find((problem) => problem.where === field.path || problem.where?.endsWith(`: ${field.path}`));
  const invalid = mine ? { 'aria-invalid': true, 'aria-describedby': `wrong-${field.path}` } : {};
  const label = `${field.label}${field.required ? '' : ' (if known)'}`;
  if (field.type === 'check') {
    return (
      <label class="field check">
        <input type="checkbox" name={field.path} defaultChecked={field.value === 'true'} />
        <span>{field.label}</span>
      </label>
    );
  }
  return (
    <div class="field">
      <label for={`f-${field.path}`}>{label}</label>
      <div class="row">
        <FieldInput field={field} extra={invalid} />
      </div>
      {field.byFile && <RouteFile path={field.path} />}
      {field.help !== '' && <small class="soft">{field.help}</small>}
      {mine && (
        <small class="wrong" id={`wrong-${field.path}`}>
          {mine.what}
        </small>
      )}
    </div>
  );
}

/** A code said in words while it is typed; the date it gives is put where the date belongs, if nothing stands there. */
function CodeInput({
  kind,
  common,
  value,
}: {
  readonly kind: string;
  readonly common: { id: string; name: string };
  readonly value: string;
}) {
  const text = useSignal('');
  const read = async (input: HTMLInputElement): Promise<void> => {
    const code = input.value;
    const { text: said, madeOn } = await ask('decode', { kind, code });
    if (input.value !== code) return;
    text.value = said;
    const made = input.form?.elements.namedItem('madeOn');
    if (made instanceof HTMLInputElement && madeOn !== '' && (made.value === '' || made.dataset.read !== undefined)) {
      made.value = madeOn;
      made.dataset.read = '';
    }
  };
  return (
    <span class="grow">
      <input
        {...common}
        autocomplete="off"
        autocapitalize="characters"
        defaultValue={value}
        onInput={(event) => void read(event.currentTarget)}
      />
      <small aria-live="polite">{text.value}</small>
    </span>
  );
}

function FieldInput({ field, extra }: { readonly field: Field; readonly extra: object }) {
  const common = { id: `f-${field.path}`, name: field.path, ...extra };
  const required = field.required && field.type !== 'quantity';
  if (field.decodes !== undefined) return <CodeInput kind={field.decodes} common={common} value={field.value} />;
  switch (field.type) {
    case 'choice':
      return (
        <select {...common} required={required} defaultValue={field.value}>
          {!field.required && field.choices?.[0]?.value !== '' && <option value="">–</option>}
          {field.choices?.map((choice) => (
            <option key={choice.value} value={choice.value} selected={choice.value === field.value}>
              {choice.label}
            </option>
          ))}
        </select>
      );
    case 'long':
      return <textarea {...common} rows={2} required={required} defaultValue={field.value} />;
    case 'quantity':
      return (
        <>
          <input
            {...common}
            inputMode="decimal"
            autocomplete="off"
            required={field.required}
            defaultValue={field.value}
          />
          <select
            name={`${field.path}#unit`}
            aria-label={`Unit of ${field.label.toLowerCase()}`}
            defaultValue={field.unit ?? ''}
          >
            {field.units?.map((unit) => (
              <option key={unit.value} value={unit.value}>
                {unit.label}
              </option>
            ))}
          </select>
        </>
      );
    case 'date':
      return <input {...common} type="date" required={required} defaultValue={field.value} />;
    case 'label-date':
      return (
        <input {...common} placeholder="2021-02" autocomplete="off" required={required} defaultValue={field.value} />
      );
    default:
      return (
        <input
          {...common}
          inputMode={field.type === 'number' ? 'decimal' : 'text'}
          autocomplete="off"
          required={required}
          defaultValue={field.value}
        />
      );
  }
}
