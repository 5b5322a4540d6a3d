/** Before anything is painted: the colours that were chosen here, or else those that this device asks for. */
(() => {
  const chosen = localStorage.getItem('theme');
  const wants = (what) => matchMedia(what).matches;
  const asked = wants('(prefers-contrast: more)') ? 'sun' : wants('(prefers-color-scheme: dark)') ? 'night' : 'paper';
  document.documentElement.dataset.theme = ['paper', 'night', 'sun'].includes(chosen) ? chosen : asked;
})();
