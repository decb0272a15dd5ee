/** A stand-in for an object that counts how often a property of it is read: what work costs, without a clock. */
export function countLooks<T extends object>(target: T): { readonly counted: T; readonly count: () => number } {
  let looks = 0;
  const counted = new Proxy(target, {
    get(object, name) {
      looks++;
      return Reflect.get(object, name);
    },
  });
  return { counted, count: () => looks };
}
