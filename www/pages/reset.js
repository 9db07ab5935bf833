/**
 * Throws the kept program away and opens the list of cameras from where the program came.
 * Not here: the throwing away (`offline/program.js`). It leans on nothing else, so that it works where another part is broken.
 */

import { reset } from "../offline/program.js";

const [button, said] = [document.getElementById("reset"), document.getElementById("said")];

button?.addEventListener("click", async () => {
  const sentence = await reset().catch((error) => `The program could not be reset: ${String(error)}.`);
  if (said) {
    said.textContent = sentence;
    said.hidden = sentence === "";
  }
  if (!sentence) {
    location.replace("index.html");
  }
});
