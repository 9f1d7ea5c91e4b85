//! Points, boxes, polygons and the distances between them, exact where they decide.
