/** An object that throws, naming what was asked for, where the double has nothing to offer. */
export function strict<T extends object>(name: string, target: T): T {
  return new Proxy(target, {
    get(from, property) {
      // Promises and test reports look for these on everything.
      if (typeof property === "symbol" || property === "then" || property === "toJSON" || property in from)
        return own(from, Reflect.get(from, property));
      throw new Error(`electron.${name}.${property} is not doubled`);
    },
  });
}

/** A method works on the object behind the proxy, which alone has its private parts; a class stays a class. */
function own(from: object, value: unknown): unknown {
  const isMethod = typeof value === "function" && !/^class\b/.test(Function.prototype.toString.call(value));
  return isMethod ? value.bind(from) : value;
}
