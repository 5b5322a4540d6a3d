import type { EntryLine, SourceLine } from '../replica/views/entry-text.ts';
import { linkTo } from './route.ts';

/** What a statement rests on: entries in readable words, sources by title. */
export function Grounds(props: {
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
  readonly lines: Readonly<Record<string, EntryLine>>;
  readonly titles: Readonly<Record<string, SourceLine>>;
}) {
  const entries = [...new Set(props.evidence)].flatMap((id) => props.lines[id] ?? []);
  const sources = [...new Set(props.sources)].flatMap((id) => props.titles[id] ?? []);
  return (
    <dl class="grounds">
      <dt>Evidence</dt>
      {entries.length === 0 && <dd>Nothing on record.</dd>}
      {entries.map((line) => (
        <dd key={line.id}>
          <a href={linkTo('logbook', line.id)}>{line.day}</a>, {line.by}: {line.head}
          {line.more === '' ? '' : ` (${line.more})`}
        </dd>
      ))}
      {sources.length > 0 && <dt>{sources.length === 1 ? 'Source' : 'Sources'}</dt>}
      {sources.map((source) => (
        <dd key={source.title}>
          {source.title}{' '}
          <span class="soft">
            ({source.kind}
            {source.note === '' ? '' : `; ${source.note}`})
          </span>
        </dd>
      ))}
    </dl>
  );
}
