package paper

const NotIssued = "NOT ISSUED"
