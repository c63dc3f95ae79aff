/** Takes all steps of a work at once, where nobody waits in between. */
export function atOnce<T>(steps: Generator<unknown, T, void>): T {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}
