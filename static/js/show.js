// A button beside each password that shows what was typed. Without script there is none.
for (const field of document.querySelectorAll("input[type=password]")) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "add less";
  button.textContent = "Show what I type";
  button.setAttribute("aria-pressed", "false");
  button.setAttribute("aria-controls", field.id);
  button.addEventListener("click", () => {
    const shown = field.type === "text";
    field.type = shown ? "password" : "text";
    button.setAttribute("aria-pressed", String(!shown));
  });
  field.after(button);
}
