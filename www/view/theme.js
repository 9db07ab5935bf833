/*
 * Puts the chosen look on before anything is painted, and again when a page comes back or another tab chose anew. A plain script,
 * because a module would come too late. Not here: choosing (the page "More"), remembering (`store/settings.js`, same name).
 */
{
  const wear = () => {
    try {
      document.documentElement.dataset.theme = localStorage.getItem("lampblack.theme") ?? "auto";
    } catch {
      // Without leave to remember a look, it is the phone's.
    }
  };
  wear();
  addEventListener("pageshow", wear);
  addEventListener("storage", wear);
}
