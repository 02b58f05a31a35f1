"""The ground floor: units and quantities, errors, tables, files, values that show themselves."""
