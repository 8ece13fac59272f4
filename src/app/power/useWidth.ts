import { useEffect, useRef, useState } from 'react'

/** Inner width of a box, for what is drawn to it. */
export function useWidth(): [{ current: HTMLDivElement | null }, number] {
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useEffect(() => {
    if (!box.current) return
    const watch = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)))
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [])
  return [box, width]
}
