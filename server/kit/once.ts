/** What follows from an object alone, which nobody changes, is worked out once for each. */
export function onceFor<T extends object, R>(work: (of: T) => R): (of: T) => R {
  const known = new WeakMap<T, { readonly value: R }>();
  return (of) => {
    const found = known.get(of) ?? { value: work(of) };
    known.set(of, found);
    return found.value;
  };
}
