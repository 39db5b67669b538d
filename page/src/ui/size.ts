/** The width of an element, followed as it changes [px]. */
import { useLayoutEffect, useRef, useState } from "preact/hooks";

export function useWidth<T extends HTMLElement>() {
  const element = useRef<T>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const watched = element.current;
    if (!watched) return;
    const observer = new ResizeObserver(([entry]) =>
      setWidth(Math.floor(entry?.contentRect.width ?? 0)),
    );
    observer.observe(watched);
    setWidth(Math.floor(watched.getBoundingClientRect().width));
    return () => observer.disconnect();
  }, []);
  return [element, width] as const;
}
