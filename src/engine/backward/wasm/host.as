// What the host does for the backward kernel.

/** Through a solid lens; `curved`: in by the curved side. Gives how it ends. */
// @ts-ignore: decorator
@external('host', 'solid')
export declare function solidHost(curved: i32): i32
/** Several spectra: the density of each at this wavelength (of a cell without width: `line`) over the drawn density, into the table of ratios. */
// @ts-ignore: decorator
@external('host', 'mixture')
export declare function mixtureHost(nm: f64, line: i32): void
