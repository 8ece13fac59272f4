import type { ReactNode } from 'react'

/** A pane that scrolls, and takes the focus so that keys can scroll it. */
export const ScrolledPane = ({
  className,
  label,
  children,
}: {
  className: string
  label: string
  children: ReactNode
}) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by key
  <section className={`ui-panel-pane ${className}`} aria-label={label} tabIndex={0}>
    {children}
  </section>
)
