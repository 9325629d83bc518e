//! The plain planner on small kitchens.
