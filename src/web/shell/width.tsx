import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

/**
 * A box that tells its children how wide it is, in CSS pixels; they are drawn anew when that changes. Measured before the first frame, so
 * that what stands below never moves.
 */
export function Wide({
  children,
  ...rest
}: {
  readonly children: (width: number) => ComponentChildren;
  readonly class?: string;
  readonly 'data-line'?: boolean;
}) {
  const box = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  useLayoutEffect(() => {
    const { paddingLeft, paddingRight } = getComputedStyle(box.current!);
    width.value = Math.round(
      box.current!.clientWidth - Number.parseFloat(paddingLeft) - Number.parseFloat(paddingRight),
    );
    const watch = new ResizeObserver(([seen]) => {
      width.value = Math.round(seen!.contentRect.width);
    });
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  return (
    <div ref={box} {...rest}>
      {width.value > 0 && children(width.value)}
    </div>
  );
}
