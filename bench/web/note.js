/** Runs in the page before anything of the app, and notes what `page.ts` says: `window.noted`. */
const noted = {
  ...{ shell: null, judged: null, answered: null, shift: 0, long: [], event: 0, frames: [], recording: false },
};
window.noted = noted;

const watch = (type, each, more = {}) => {
  new PerformanceObserver((list) => list.getEntries().forEach(each)).observe({ type, buffered: true, ...more });
};
watch('longtask', (entry) => noted.long.push({ at: entry.startTime, ms: entry.duration }));
watch(
  'event',
  (entry) => {
    noted.event = Math.max(noted.event, entry.duration);
  },
  { durationThreshold: 16 },
);
watch('layout-shift', (shift) => {
  // What the press below opens moves the rest on purpose.
  if (!shift.hadRecentInput && noted.judged === null) noted.shift += shift.value;
});

/** After the next frame is on the screen. */
const painted = (then) => requestAnimationFrame(() => setTimeout(() => then(performance.now())));

const look = new MutationObserver(() => {
  if (noted.shell === null && document.querySelector('h1')) {
    noted.shell = 0;
    painted((at) => {
      noted.shell = at;
    });
  }
  const why = document.querySelector('.go button.why');
  if (!why || !document.querySelector('.go-head h1')) return;
  look.disconnect();
  painted((at) => {
    noted.judged = at;
    why.click();
    painted((later) => {
      if (why.getAttribute('aria-expanded') === 'true') noted.answered = later;
    });
  });
});
look.observe(document, { childList: true, subtree: true });

let before = 0;
const frame = (now) => {
  if (noted.recording) noted.frames.push(now - before);
  before = now;
  requestAnimationFrame(frame);
};
requestAnimationFrame(frame);
