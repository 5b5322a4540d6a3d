import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** True from going to another page until a key or a finger is used there: until then its heading, once it is there, has the focus. */
let arriving = false;

addEventListener('hashchange', () => {
  arriving = true;
  scrollTo(0, 0);
});
for (const used of ['keydown', 'pointerdown']) {
  addEventListener(
    used,
    () => {
      arriving = false;
    },
    { capture: true },
  );
}

/** The page's heading. Whoever reads by ear or by keyboard is taken to it on arrival. */
export function Title({ children, ...rest }: { readonly children: ComponentChildren; readonly 'aria-busy'?: boolean }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (arriving) heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1} {...rest}>
      {children}
    </h1>
  );
}
