declare const mark: unique symbol;

/** A plain value that may not be mixed up with another of the same base type: a `Day` is not any string. */
export type Brand<Base, Name extends string> = Base & { readonly [mark]: Name };
