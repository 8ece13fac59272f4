// The same while developing, where elements also know their place in the source.
import { Fragment, jsxDEV as reactJsxDev } from 'react/jsx-dev-runtime'
import { pageMark } from '../../common/decimalMark.ts'
import { withShownProps } from './shownProps.ts'

export type { JSX } from 'react'
export { Fragment }

export const jsxDEV: typeof reactJsxDev =
  pageMark === '.'
    ? reactJsxDev
    : (type, props, ...rest) => reactJsxDev(type, withShownProps(type, props, pageMark), ...rest)
