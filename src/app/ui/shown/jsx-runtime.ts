// React's own runtime of JSX, but text is put on the page with the decimal mark of the browser's language. Every element of the page is made
// by it (jsxImportSource in tsconfig.json and vite.config.ts), so no view turns a number by itself.
import { Fragment, jsx as reactJsx, jsxs as reactJsxs } from 'react/jsx-runtime'
import { pageMark } from '../../common/decimalMark.ts'
import { withShownProps } from './shownProps.ts'

export type { JSX } from 'react'
export { Fragment }

export const jsx: typeof reactJsx =
  pageMark === '.' ? reactJsx : (type, props, key) => reactJsx(type, withShownProps(type, props, pageMark), key)
export const jsxs: typeof reactJsxs =
  pageMark === '.' ? reactJsxs : (type, props, key) => reactJsxs(type, withShownProps(type, props, pageMark), key)
