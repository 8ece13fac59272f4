// Functions of the host whose last digit a library decides.

// @ts-ignore: decorator
@external('host', 'pow')
export declare function powHost(base: f64, exponent: f64): f64
// @ts-ignore: decorator
@external('host', 'log')
export declare function logHost(x: f64): f64
// @ts-ignore: decorator
@external('host', 'exp')
export declare function expHost(x: f64): f64
// @ts-ignore: decorator
@external('host', 'acos')
export declare function acosHost(x: f64): f64
// @ts-ignore: decorator
@external('host', 'cos')
export declare function cosHost(x: f64): f64
// @ts-ignore: decorator
@external('host', 'sin')
export declare function sinHost(x: f64): f64
