import { useAnswer } from '../replica/client.ts';
import type { GroundsAsk } from '../replica/views/grounds.ts';
import { linkTo } from './route.ts';

/** What a statement rests on: entries in readable words, sources by title. Put into words only when shown: few of all are ever opened. */
export function Grounds({ evidence, sources: cited, part }: GroundsAsk) {
  const { answer } = useAnswer('grounds', { evidence, sources: cited, part });
  if (answer === null) return null;
  const entries = [...new Set(evidence)].flatMap((id) => answer.lines[id] ?? []);
  const sources = [...new Set(cited)].flatMap((id) => answer.titles[id] ?? []);
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
