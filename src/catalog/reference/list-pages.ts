import { needsOf } from '../kit.ts';
import { limitText } from '../limits.ts';
import { seasonUpkeeps } from '../season.ts';
import type { Catalog, Mishap } from '../types.ts';
import { bullets, numbered, type Page, page, section, table } from './page.ts';
import { factLines, figureLines, kitNames, sourceText } from './upkeep-pages.ts';

export function listPages(catalog: Catalog): Page[] {
  return [
    mishapPage(catalog),
    kitPage(catalog),
    setUpPage(catalog),
    factPage(catalog),
    limitPage(catalog),
    seasonPage(catalog),
    sourcePage(catalog),
  ];
}

const titles = (catalog: Catalog, ids: readonly string[]) =>
  ids.map((id) => `${catalog.upkeeps.get(id)!.title} (\`${id}\`)`);

function mishapLines(catalog: Catalog, mishap: Mishap): string[] {
  return [
    `## ${mishap.title}`,
    '',
    `\`${mishap.id}\` · ${sourceText(catalog, mishap.source)}`,
    '',
    ...section('Signs', bullets(mishap.signs)),
    ...section('First minute', numbered(mishap.firstMinute)),
    ...section('Cautions', bullets(mishap.cautions)),
    ...section('Needs from your handbook', factLines(catalog, mishap.needsFacts)),
    ...section('Steps', numbered(mishap.steps)),
    ...section('Do not tow on if', bullets(mishap.doNotTowIf)),
    ...section('Call', bullets(mishap.call)),
    ...section(
      'Tools and spares',
      bullets(needsOf(mishap).map((need) => kitNames(catalog, need.anyOf).join(', *or* '))),
    ),
    ...section('Figures', figureLines(catalog, mishap.figures)),
    ...section('Drill', mishap.drill === undefined ? [] : titles(catalog, [mishap.drill])),
    ...section('Prevented by', bullets(titles(catalog, mishap.preventedBy))),
  ];
}

function mishapPage(catalog: Catalog): Page {
  return page('mishaps.md', [
    '# Mishaps',
    '',
    'What goes wrong away from home. Every tool and spare listed is needed; where several stand in one line any of them will do.',
    '',
    ...[...catalog.mishaps.values()].flatMap((mishap) => mishapLines(catalog, mishap)),
  ]);
}

function kitPage(catalog: Catalog): Page {
  const mishaps = [...catalog.mishaps.values()];
  const users = [...catalog.upkeeps.values(), ...catalog.setups.values()];
  const rows = [...catalog.kit.values()].map((item) => [
    item.name,
    `\`${item.id}\``,
    item.kind,
    String(item.weightLb),
    String(item.cost),
    mishaps
      .filter((mishap) => needsOf(mishap).some((need) => need.anyOf.includes(item.id)))
      .map(({ title }) => title)
      .join('; '),
    String(users.filter(({ tools }) => tools.includes(item.id)).length),
  ]);
  return page('kit.md', [
    '# Kit',
    '',
    'Tools and spares as kinds. Weights and costs are estimates. A thing that serves no mishap belongs in the shed.',
    '',
    ...table(['Thing', 'Id', 'Kind', 'lb', 'Cost', 'Serves at the roadside', 'Upkeeps and set-ups that use it'], rows),
  ]);
}

function setUpPage(catalog: Catalog): Page {
  return page('setups.md', [
    '# Set-ups',
    '',
    'Preparation that several jobs share, paid once a yard day. Minutes are estimates.',
    '',
    ...[...catalog.setups.values()].flatMap((setup) => [
      `## <a id="${setup.id}"></a>${setup.title}`,
      '',
      `\`${setup.id}\` · about ${setup.minutes} min${setup.minutesEach === undefined ? '' : ` and ${setup.minutesEach} min a wheel`}${setup.presumes ? ` · stands on ${setup.presumes.map((id) => `\`${id}\``).join(', ')}` : ''}`,
      '',
      ...section('Cautions', bullets(setup.cautions)),
      ...section('Needs from your handbook', factLines(catalog, setup.needsFacts)),
      ...section('Steps', numbered(setup.steps)),
      ...section('With', bullets(kitNames(catalog, setup.tools))),
    ]),
  ]);
}

function factPage(catalog: Catalog): Page {
  return page('rig-facts.md', [
    '# What only your own handbook can say',
    '',
    'Makers contradict each other about these, and a wrong guess hurts. Enter each as a setting `fact/ID`. Until then it is unknown; there is no default.',
    '',
    ...[...(catalog.rigFacts?.values() ?? [])].flatMap((fact) => [
      `## <a id="${fact.id}"></a>${fact.title}`,
      '',
      `\`fact/${fact.id}\`${fact.unit === undefined ? '' : `, in ${fact.unit}`}`,
      '',
      ...section('Where to look', [fact.ask]),
      ...section('Why no default', [fact.why]),
      ...section(
        'What is published',
        bullets(fact.disagree.map(({ says, source }) => `${says}. ${sourceText(catalog, source)}`)),
      ),
    ]),
  ]);
}

function limitPage(catalog: Catalog): Page {
  const rows = [...catalog.limits.values()].map((limit) => [
    `<a id="${limit.id}"></a>\`${limit.id}\``,
    `${limit.bound} ${limitText(limit)}`,
    limit.what,
    sourceText(catalog, limit.source),
    [
      ...(limit.also ?? []).map(({ says, source }) => `${says} (${sourceText(catalog, source)})`),
      ...(limit.note === undefined ? [] : [limit.note]),
    ].join(' '),
  ]);
  return page('limits.md', [
    '# Shared limits',
    '',
    'Figures that several jobs, calculations and findings use. Each stands once, in `catalog/limits.json`; a text of the catalog names',
    'it as `{id}`, code as `limitOf(id)`. The handbook of your own rig outranks each of them.',
    '',
    ...table(['Id', 'Limit', 'Of what', 'Source', 'Otherwise'], rows),
  ]);
}

function seasonPage(catalog: Catalog): Page {
  const lines = (season: 'spring' | 'autumn') =>
    seasonUpkeeps(catalog, season).map(({ id, title }) => `${title} (\`${id}\`)`);
  return page('seasons.md', [
    '# The seasons and the drills',
    '',
    '## Spring opening',
    '',
    ...numbered(lines('spring')),
    '',
    '## Autumn lay-up',
    '',
    ...numbered(lines('autumn')),
    '',
    '## Drills',
    '',
    ...bullets(
      [...catalog.upkeeps.values()].filter(({ drill }) => drill).map(({ id, title }) => `${title} (\`${id}\`)`),
    ),
  ]);
}

function sourcePage(catalog: Catalog): Page {
  const rows = [...catalog.sources.values()].map((source) => [
    `<a id="${source.id}"></a>\`${source.id}\``,
    source.kind,
    `${source.title}${source.edition === undefined ? '' : `, ${source.edition}`}`,
    source.seen === 'read' ? 'read' : 'from memory',
    source.note ?? '',
  ]);
  return page('sources.md', [
    '# Sources',
    '',
    '`read` means the figure was seen in the named document, often in an excerpt of it; `from memory` means it wants verifying.',
    'A regulation or standard outranks a handbook only where the law says so; for your own rig its own handbook comes first.',
    '',
    ...table(['Id', 'Kind', 'Title', 'Seen', 'Note'], rows),
  ]);
}
