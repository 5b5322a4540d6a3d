import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { arriving } from './visits.ts';

/** The page's heading. Whoever reads by ear or by keyboard is taken to it on arrival. */
export function Title({ children, ...rest }: { readonly children: ComponentChildren; readonly 'aria-busy'?: boolean }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (arriving()) heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1} {...rest}>
      {children}
    </h1>
  );
}
