/**
 * Signs that what a sentence names was not done, not all of it, or not well. What is read as done counts as proof that it was done, so
 * a sentence with any of them is a question back to the writer and never an entry. A word too many here costs a second sentence; a word
 * too few can cost a wheel.
 */
import { fail, type Result } from '../../problem/index.ts';
import type { Tokens } from './tokens.ts';

type Sign = 'a question' | 'a negation' | 'an intention' | 'an exception' | 'a doubt' | 'a failure';

const words = (list: string): RegExp => new RegExp(`(?<![\\w'-])(?:${list})(?![\\w'])`, 'giu');

/** In the order in which they are told. */
const SIGNS: readonly (readonly [Sign, RegExp])[] = [
  ['a question', /[?？¿⁇؟]/gu],
  [
    'a question',
    /^(?:(?:did|do|does|has|have|had|is|are|was|were|can|could|should|shall|will|would|may|might|am) (?:i|we|you|he|she|they|it|the|a|any|anyone|anybody|someone|somebody|this|that|these|those)|who|what|when|where|why|how|which|whether)(?!\w)/giu,
  ],
  [
    'a negation',
    words(
      // `no 2` and `no. 2` name the second of something.
      "not|no(?!\\.? ?\\d)|none|nothing|nobody|nowhere|never|neither|nor|without|cannot|unable|nope|nah|zero|hardly|barely|scarcely|non|\\w+n['’]t|(?:do|did|does|is|are|was|were|has|have|had|ca|could|wo|would|should|ai|need|must)nt",
    ),
  ],
  [
    'a negation',
    words(
      'fail(?:ed|s)? to|refus\\w+|skip\\w*|miss(?:ed|es|ing)?|omit\\w*|forg[oe]t\\w*|ignor\\w+|neglect\\w*|postpone\\w*|put off|defer\\w*|delay\\w*|cancel\\w*|abort\\w*|abandon\\w*|g[ai]ve(?:n)? up|stopped|quit|bailed|declin\\w+|avoid\\w*|instead|un(?:tested|checked|done|finished|adjusted|inspected|torqued|tightened|greased|cleaned|opened|touched|changed|fixed|repaired|able|likely)',
    ),
  ],
  [
    'an intention',
    words(
      "will|won['’]?t|\\w+['’]ll|shall|should|would|could|must|might|ought|needs?|needed|needing|wants?|wanted|wanting|plans?|planned|planning|intend\\w*|mean to|meant to|hop(?:e|es|ed|ing)|going to|gonna|gotta|supposed|about to|(?:have|has|had|is|are|was|were|be|yet|still|left|try|tried|trying|time|ready|due|reminder?|remember\\w*|decided|promised|got|get|getting|able|want) to|to be|be|to[ -]?do|tbd|due|overdue|schedul\\w+|book(?:ed|ing) (?:in|for)|appointment|order(?:ed|ing)|await\\w*|waiting|wait|pending|tomorrow|tonight|later|soon|eventually|someday|next|upcoming|remind\\w*|remember|let['’]?s|please|asked|ask|tell|told|may (?:be|have|not|need|still)|in (?:a|the|two|three|\\d+) (?:days?|weeks?|months?|spring|fall|autumn|summer|winter|morning|evening)",
    ),
  ],
  [
    'an exception',
    words(
      'except\\w*|exclud\\w+|all but|but|only|apart|aside|besides|other than|save for|minus|half|halfway|part|partly|partial\\w*|some|most|mostly|almost|nearly|about half|few|several|the rest|remain\\w*|still|yet|left (?:over|undone|out|off|for|it|them|alone)|start(?:ed|ing|s)?|beg[aiu]n\\w*|in progress|ongoing|underway|working on|unfinished|incomplete\\w*|so far|continu\\w+|one of|one side|first of|other (?:side|one|axle|wheel|half)|however|although|though|(?:\\d+|one|two|three) (?:out )?of (?:the )?(?:\\d+|two|three|four|six)|ran out|run out|interrupt\\w*|rain(?:ed)? (?:off|out)|tried|attempt\\w*|trying',
    ),
  ],
  [
    'a doubt',
    words(
      "maybe|perhaps|prob(?:ably|ly)?|possibly|likely|think|thinks|thought|guess\\w*|believe\\w*|assum\\w+|suppos\\w+|sure|unsure|unclear|uncertain|seems?|seemed|apparently|allegedly|presumably|reportedly|claims?|claimed|says?|said|swears|if|unless|until|til|till|whether|in case|can['’]?t (?:tell|say|remember)|dunno|idk|doubt\\w*|wonder\\w*|pretend\\w*|dream\\w*|imagin\\w*|n/a",
    ),
  ],
  [
    'a failure',
    words(
      'fail\\w*|bad|badly|poor|poorly|dead|broke|broken|leaks|leaked|leaking|leaky|crack|cracks|cracked|torn|tore|ripped|split|worn|stuck|seiz\\w+|frozen|froze|loose|loosened|loosening|damag\\w+|fault\\w*|defect\\w*|wrong|weak|gave out|fell (?:off|out|apart)|c[ao]me (?:off|loose|out|apart)|smok(?:es|ed|ing)|burn(?:s|t|ed|ing)|melted|bent|wobbl\\w+|out of (?:spec|range|round|date|true)|below (?:spec|limit|minimum)|over (?:the )?limit|too \\w+|drag(?:s|ged|ging)|lock(?:s|ed) up|grind(?:s|ing)|grinds|squeal\\w*|intermittent\\w*|trouble|problems?|issues?|errors?|reject\\w*|fall(?:s|ing)|los(?:t|es|ing)|dropp(?:ed|ing)|drops|weep(?:s|ing)|wept|drip(?:s|ped|ping)|seep\\w*|rusted through|expired|unsafe|useless|junk|shot|toast|hopeless|dud|ng|nfg|kaput|red',
    ),
  ],
  ['a failure', /[❌✗✘✖👎⛔🚫☒]/gu],
];

/** The plain ways to say that a test failed, which are written down as failed. */
const FAILED =
  /(?<![\w'-])(?:(?:it |they )?(?:fail(?:ed|s)?|no good|bad|dead)|(?:is|was|are|were) not (?:working|good)|not working|did(?:n['’]?t| not) (?:work|hold|pass))(?![\w'-])(?! to\b)/giu;

/** Signs in a text, each with the words that are one. */
function signsIn(text: string): { readonly sign: Sign; readonly said: string }[] {
  return SIGNS.flatMap(([sign, form]) => [...text.matchAll(form)].map(([said]) => ({ sign, said: said.trim() })));
}

/** True where the sentence says in plain words that it failed, and nothing else that would make it a question. */
export function saysFailed(text: string): boolean {
  const rest = text.replace(FAILED, ' ');
  return rest !== text && signsIn(rest).length === 0;
}

/** The question back, or undefined where nothing speaks against what the sentence says. Problems: `sentence.not-done`. */
export function notDone({ text, note = '' }: Tokens): Result<never> | undefined {
  const signs = [...(saysFailed(text) ? [] : signsIn(text)), ...signsIn(note)];
  const [first] = signs;
  if (first === undefined) return undefined;
  const said = [...new Set(signs.map((one) => `“${one.said}”`))].slice(0, 3).join(', ');
  return fail({
    code: 'sentence.not-done',
    what: `Was it done, all of it, and is it good? ${said} can be ${first.sign}`,
    where: text,
    expected: ASKED[first.sign],
    next: 'Put other remarks in a second entry, or fill in the form.',
  });
}

const DONE = '“tested breakaway” for what was done';
const ASKED: Readonly<Record<Sign, string>> = {
  'a question': `${DONE}; what you want to know is in the outlook and the logbook`,
  'a negation': `${DONE}, “tested breakaway, it failed” for what failed, and nothing for what was not done`,
  'an intention': `${DONE}; what is to be done is in the plan, where a job can be pinned to a day`,
  'an exception': 'only what was done, by its place: “repacked axle 2 left at 64,120”',
  'a doubt': `${DONE}; nothing where nobody is sure`,
  'a failure': '“tested breakaway, it failed” for what failed, and a sentence of its own for what is good',
};

/** Past forms of verbs that do not end in -ed, and those that are the same as the verb itself. */
const PAST = new Set(
  'did done set put cut shut reset laid lay blew blown drew drawn took taken ran run swept wound bled fed felt found kept hung ground built bought brought made wore wrung swung rang rung sprang read let led left lit spun stuck struck threw wrote drove redid redone overhauled'.split(
    ' ',
  ),
);
/** Base forms that look like the past: `need`, `bleed`, `feed`. */
const NO_PAST = /eed$/;

/** True where a verb is written as what has happened: `tested`, `set`, `blew`; not `test`, `tests`, `testing`. */
export const isPast = (verb: string): boolean => PAST.has(verb) || (verb.endsWith('ed') && !NO_PAST.test(verb));

/** The question back about a verb that may be an order, a habit or a plan. Problems: `sentence.not-done`. */
export function orderOrDone(verb: string, where: string): Result<never> {
  return fail({
    code: 'sentence.not-done',
    what: `Was it done? “${verb}” can be an order or a plan`,
    where,
    expected: `${DONE}, in the past; what is to be done is in the plan, where a job can be pinned to a day`,
  });
}
