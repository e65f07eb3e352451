import { type RefObject, useLayoutEffect, useRef, useState } from "react";

/** Width of an element on the page, px, followed as it changes; 0 until it is known. */
export function useWidth<E extends Element>(): readonly [RefObject<E | null>, number] {
  const ref = useRef<E | null>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    setWidth(Math.floor(element.getBoundingClientRect().width));
    const watch = new ResizeObserver(([entry]) => {
      if (entry !== undefined) setWidth(Math.floor(entry.contentRect.width));
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [ref, width];
}
