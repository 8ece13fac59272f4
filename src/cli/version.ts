import about from '../../package.json'

export const VERSION: string = about.version
