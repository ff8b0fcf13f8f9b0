/** Labels of the generated documents, in the languages of the trade: those of one line mean the same. */
export const LABELS: readonly (readonly string[])[] = [
  ["Heat", "Schmelze", "Coulée", "Colata", "Colada"],
  ["Test piece", "Probe", "Éprouvette", "Provetta", "Probeta"],
  ["Material", "Werkstoff", "Matériau", "Materiale"],
  ["Zone", "Prüfort"],
  ["Average J", "Mittelwert J", "Moyenne J", "Media J"],
  ["Product", "Erzeugnis", "Produit", "Prodotto", "Producto"],
  ["Thickness", "Dicke", "Épaisseur", "Spessore", "Espesor"],
];
