import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import { ask } from '../replica/client.ts';
import type { Field } from '../replica/views/form-fields.ts';
import { RouteFile } from './route-file.tsx';

/** Fields under their groups; what is wrong with one is said beside it. `turn`: told what is chosen in a field on which others depend. */
export function FieldGroups({
  fields,
  problems,
  turn,
}: {
  readonly fields: readonly Field[];
  readonly problems: readonly Problem[];
  readonly turn?: ((path: string, value: string) => void) | undefined;
}) {
  return (
    <>
      {groupsOf(fields).map(({ group, fields: members }) => (
        <fieldset key={group} class={group === '' ? 'bare' : ''}>
          {group !== '' && <legend>{group}</legend>}
          {members
            .filter(({ seldom }) => !seldom)
            .map((field) => (
              <FieldRow key={field.path} field={field} problems={problems} turn={turn} />
            ))}
          <Seldom fields={members.filter(({ seldom }) => seldom)} problems={problems} turn={turn} />
        </fieldset>
      ))}
    </>
  );
}

/** Fields that are seldom filled in, folded away; open where something is wrong with one. */
function Seldom({ fields, problems, turn }: Parameters<typeof FieldGroups>[0]) {
  if (fields.length === 0) return null;
  const names = fields.map(({ label }, at) => (at === 0 ? label : label.toLowerCase())).join(', ');
  return (
    <details open={problems.some((problem) => fields.some((field) => isOf(problem, field)))}>
      <summary>{names}</summary>
      {fields.map((field) => (
        <FieldRow key={field.path} field={field} problems={problems} turn={turn} />
      ))}
    </details>
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

/** Whether a problem is of this field: it names the field's path, perhaps after the draft it stands in. */
const isOf = ({ where }: Problem, { path }: Field): boolean => where === path || Boolean(where?.endsWith(`: ${path}`));

/** Problems with the labels of the fields they are of, as whoever fills them in knows them. */
export const inWords = (problems: readonly Problem[], fields: readonly Field[]): readonly Problem[] =>
  problems.map((problem) => {
    const field = fields.find((one) => isOf(problem, one));
    return field === undefined ? problem : { ...problem, where: field.label };
  });

function FieldRow(props: {
  readonly field: Field;
  readonly problems: readonly Problem[];
  readonly turn: ((path: string, value: string) => void) | undefined;
}) {
  const { field, problems, turn } = props;
  const id = useId();
  const mine = problems.find((problem) => isOf(problem, field));
  const about = [field.help !== '' && `${id}-help`, mine && `${id}-wrong`].filter(Boolean).join(' ');
  const extra = {
    id,
    ...(mine ? { 'aria-invalid': true } : {}),
    ...(about === '' ? {} : { 'aria-describedby': about }),
    ...(field.turns
      ? { onChange: (event: { currentTarget: { value: string } }) => turn?.(field.path, event.currentTarget.value) }
      : {}),
  };
  const ifEmpty = field.required ? '' : (field.ifEmpty ?? 'if known');
  const label = ifEmpty === '' ? field.label : `${field.label} (${ifEmpty})`;
  if (field.type === 'check') {
    return (
      <label class="field check">
        <input type="checkbox" name={field.path} defaultChecked={field.value === 'true'} />
        <span>{field.label}</span>
      </label>
    );
  }
  if (field.aside) return <Aside field={field} label={label} />;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="row">
        <FieldInput field={field} extra={extra} />
      </div>
      {field.byFile && <RouteFile path={field.path} />}
      {field.help !== '' && (
        <small class="soft" id={`${id}-help`}>
          {field.help}
        </small>
      )}
      {mine && (
        <small class="wrong" id={`${id}-wrong`}>
          {mine.what}
        </small>
      )}
    </div>
  );
}

/** Few choices side by side, for a thumb. */
function Aside({ field, label }: { readonly field: Field; readonly label: string }) {
  return (
    <fieldset class="bare aside">
      <legend class="sr">{field.group === '' ? label : `${label}: ${field.group}`}</legend>
      {field.choices?.map(({ value, label: text }) => (
        <label key={value}>
          <input
            type="radio"
            name={field.path}
            value={value}
            required={field.required}
            defaultChecked={value === field.value}
          />
          <span>{text}</span>
        </label>
      ))}
    </fieldset>
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

function FieldInput({ field, extra }: { readonly field: Field; readonly extra: { readonly id: string } }) {
  const { placeholder } = field;
  const common = { name: field.path, ...extra, ...(placeholder ? { placeholder } : {}) };
  const required = field.required && field.type !== 'quantity';
  if (field.decodes !== undefined) return <CodeInput kind={field.decodes} common={common} value={field.value} />;
  switch (field.type) {
    case 'choice':
      return (
        <select {...common} required={required}>
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
          <UnitInput field={field} />
        </>
      );
    case 'date':
      return <input {...common} type="date" required={required} defaultValue={field.value} />;
    case 'tel':
      return <input {...common} type="tel" autocomplete="off" required={required} defaultValue={field.value} />;
    case 'label-date':
      return (
        <input placeholder="2021-02" {...common} autocomplete="off" required={required} defaultValue={field.value} />
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

/** Units to choose from; of one alone, its name. */
function UnitInput({ field }: { readonly field: Field }) {
  const { units = [], unit = '' } = field;
  if (units.length === 1) {
    return (
      <span class="figure-unit">
        {units[0]!.label}
        <input type="hidden" name={`${field.path}#unit`} value={unit} />
      </span>
    );
  }
  return (
    <select
      key={units.map(({ value }) => value).join(' ')}
      name={`${field.path}#unit`}
      aria-label={`Unit of ${field.label.toLowerCase()}`}
    >
      {units.map(({ value, label }) => (
        <option key={value} value={value} selected={value === unit}>
          {label}
        </option>
      ))}
    </select>
  );
}
