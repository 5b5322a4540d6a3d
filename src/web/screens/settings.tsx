import type { ComponentType } from 'preact';
import { frame, useAnswer } from '../replica/client.ts';
import type { SettingsView } from '../replica/views/settings.ts';
import { install } from '../shell/install.ts';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';
import { newer } from '../shell/version.ts';
import { Data } from './settings-data.tsx';
import { Device } from './settings-device.tsx';
import { type SettingsPart, writeSetting } from './settings-figure.tsx';
import { Handbook } from './settings-handbook.tsx';
import { Names } from './settings-people.tsx';
import { Road } from './settings-road.tsx';
import { Time } from './settings-time.tsx';
import { Worth } from './settings-worth.tsx';
import './settings.css';

/** Each a question; beside it what was answered, in a line. `own`: figures of the rig, which readers see and do not change. */
interface Topic {
  readonly id: string;
  readonly question: string;
  readonly own: boolean;
  readonly Page: ComponentType<SettingsPart>;
  answer(view: SettingsView): string;
}

const TOPICS: readonly Topic[] = [
  {
    id: 'time',
    question: 'When can you work at home?',
    own: true,
    Page: Time,
    answer: ({ week, weekdaysSaid, days }) =>
      [
        week || 'No day',
        ...(weekdaysSaid ? [] : ['a guess until you say']),
        ...(days.length > 0 ? [days.length === 1 ? 'one day set apart' : `${days.length} days set apart`] : []),
      ].join('; '),
  },
  {
    id: 'worth',
    question: 'What is it worth, and what may be risked?',
    own: true,
    Page: Worth,
    answer: ({ hourlyValue, appetite }) =>
      `${hourlyValue === null ? 'No hourly value said' : `$${hourlyValue} an hour`}; ${appetite || 'nothing to spare first'}`,
  },
  {
    id: 'road',
    question: 'How fast, and in which units?',
    own: true,
    Page: Road,
    answer: ({ speedMax, units }) =>
      `${speedMax === null ? 'No speed said' : `${speedMax.value} ${speedMax.unit}`}; ${units === 'us' ? 'US customary' : 'metric'}`,
  },
  {
    id: 'handbook',
    question: 'What does your handbook say?',
    own: true,
    Page: Handbook,
    answer: ({ facts, overrides }) => {
      const known = facts.filter(({ value }) => value !== '').length;
      return `${known} of ${facts.length} facts; ${overrides === 0 ? 'no figure' : overrides === 1 ? '1 figure' : `${overrides} figures`} of your own`;
    },
  },
  {
    id: 'names',
    question: 'Who writes here, and whom to call?',
    own: true,
    Page: Names,
    answer: ({ calls }) =>
      `${frame.value?.by ?? ''}; ${calls.length === 0 ? 'nobody to call' : calls.map(({ name }) => name).join(', ')}`,
  },
  {
    id: 'data',
    question: 'Data in and out, safe copies',
    own: false,
    Page: Data,
    answer: () => `${(frame.value?.entries ?? 0).toLocaleString('en-US')} entries`,
  },
  {
    id: 'device',
    question: 'This device: install, version',
    own: false,
    Page: Device,
    answer: () =>
      newer.value !== null ? 'A newer version is ready' : install.value === 'inside' ? 'Installed' : 'In the browser',
  },
];

/** The owner's own figures, each an entry in the logbook, by the question they answer; and data in and out. */
export function Settings() {
  const { answer, problems } = useAnswer('settings', {});
  const [id] = route.value.rest;
  const topic = TOPICS.find((one) => one.id === id);
  if (!answer) {
    return (
      <>
        <Title>{topic?.question ?? 'Your own figures'}</Title>
        <NotYet problems={problems} doing="Opening …" />
      </>
    );
  }
  return topic === undefined ? <Index view={answer} /> : <One key={topic.id} topic={topic} view={answer} />;
}

function Index({ view }: { readonly view: SettingsView }) {
  return (
    <div class="settings">
      <Title>Your own figures</Title>
      <p class="soft lead-in">
        Each is an entry in the logbook: it can be looked up, and struck. Your handbook outranks every default.
      </p>
      <ul class="plain questions">
        {TOPICS.map((topic) => (
          <li key={topic.id}>
            <a href={linkTo('settings', topic.id)}>
              <b>{topic.question}</b>
              <span class="soft">{topic.answer(view)}</span>
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

function One({ topic, view }: { readonly topic: Topic; readonly view: SettingsView }) {
  const mayWrite = frame.value?.mayWrite ?? false;
  const page = <topic.Page view={view} set={writeSetting} />;
  return (
    <div class="settings">
      <p class="back">
        <a href={linkTo('settings')}>Your own figures</a>
      </p>
      <Title>{topic.question}</Title>
      {topic.own && !mayWrite ? (
        <fieldset class="bare" disabled>
          {page}
        </fieldset>
      ) : (
        page
      )}
    </div>
  );
}
