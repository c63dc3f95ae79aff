import { WALK_KEYS, type WalkKey } from "../store/settings.ts";
import { type Store, useStore } from "../store/store.ts";
import { workControl } from "./controls.ts";
import { learn, useLearning } from "./learning.ts";
import { isFree, keyName, withKey } from "./walkKeys.ts";

/**
 * The one listener for the keys and the foot switch of the walk, wherever hands are on a gauge: at Lifters, Zero and
 * Bores. Elsewhere a control that waits for its key or pedal learns it. Returns the function that stops it.
 */
export function listenForControls(target: Window): () => void {
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const { wanted } = useLearning.getState();
    if (wanted?.by === "key") {
      if (event.code === "Tab") return;
      event.preventDefault();
      learnKey(wanted.control, event.code);
      return;
    }
    const element = event.target instanceof HTMLElement ? event.target : null;
    if (element?.matches("input, select, textarea, [contenteditable]") === true) return;
    // A focused control is worked by its own key first.
    if (event.code === "Space" && element?.closest("button, summary, a, [role=button]")) return;
    const { keys } = useStore.getState().settings;
    const control = WALK_KEYS.find((one) => keys[one] === event.code);
    if (control !== undefined && workControl(control)) event.preventDefault();
  };

  let tried = "";
  const unsubscribe = useStore.subscribe((state, before) => {
    const { footSwitch } = state;
    const attempt = attemptFor(state);
    if (attempt !== null && attempt !== tried) void connectAgain(state);
    tried = attempt ?? tried;
    if (footSwitch.presses === before.footSwitch.presses || footSwitch.line === null) return;
    onPedal(footSwitch.line);
  });
  target.addEventListener("keydown", onKeyDown);
  return () => {
    unsubscribe();
    target.removeEventListener("keydown", onKeyDown);
  };
}

/**
 * What an attempt to connect the foot switch of the settings would be, null where none is called for. It is made once
 * when the program begins and once more whenever its port appears.
 */
function attemptFor({ settings, footSwitch, info, ports }: Store): string | null {
  const { port } = settings.footSwitch;
  if (port === null || info?.mayAct !== true || footSwitch.link !== "closed" || footSwitch.path !== null) return null;
  return `${port.path} ${ports.some(({ path }) => path === port.path)}`;
}

// A switch that is not plugged in is no trouble: Settings shows that it is not connected.
async function connectAgain({ settings, actions }: Store): Promise<void> {
  const { port } = settings.footSwitch;
  if (port !== null) await actions.ask("switch.connect", { settings: port });
}

function learnKey(control: WalkKey, code: string): void {
  const { settings, actions } = useStore.getState();
  if (code !== "Escape") {
    if (!isFree(code)) {
      useLearning.setState({ refused: `${keyName(code)} is a key that gauges or the page need; choose another.` });
      return;
    }
    actions.set({ keys: withKey(settings.keys, control, code) });
  }
  learn(null);
}

function onPedal(line: string): void {
  const { settings, actions } = useStore.getState();
  const { footSwitch } = settings;
  const { wanted } = useLearning.getState();
  if (wanted?.by === "pedal") {
    // A pedal does one thing: a control that had it has none now.
    const others = Object.entries(footSwitch.lines).map(([control, own]) => [control, own === line ? null : own]);
    const lines = { ...(Object.fromEntries(others) as typeof footSwitch.lines), [wanted.control]: line };
    actions.set({ footSwitch: { ...footSwitch, lines } });
    learn(null);
    return;
  }
  const control = WALK_KEYS.find((one) => footSwitch.lines[one] === line);
  if (control !== undefined) workControl(control);
}
