// For elements whose key stands after a spread: there the compiler calls createElement.
import { createElement as reactCreateElement } from 'react'
import { pageMark } from '../../common/decimalMark.ts'
import { withShownProps } from './shownProps.ts'

export const createElement = ((type: string, props: object | null, ...children: string[]) => {
  const { children: shown } = withShownProps(type, { children }, pageMark) as { children: string[] }
  return reactCreateElement(type, withShownProps(type, props, pageMark) as null, ...shown)
}) as typeof reactCreateElement
